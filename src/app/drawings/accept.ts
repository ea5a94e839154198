import { addTracing, type NewTracing } from '../../document/commands/tracings.ts';
import type { SourceBox } from '../../engine/model/tracing.ts';
import { mmPerPoint } from '../../engine/takeoff/sheetScale.ts';
import { UNIT_MM, type LineDrawing, type StatedUnit } from '../../io/lineDrawing.ts';
import type { PageSource } from '../../tools/drawings.ts';
import { perform, type Program } from '../program.ts';
import type { LinesOffer, Offer, PageOffer } from './offer.ts';

/** A page as somebody chose it. `ratio` is the scale to start from (50 for 1:50), null for none. */
export interface PageChoice extends Pick<PageSource, 'page' | 'quarterTurns' | 'crop' | 'layers'> {
  /** Points of the whole page after the turn. */
  readonly width: number;
  readonly height: number;
  readonly ratio: number | null;
}

/** Lays a chosen page under the storey, ready for a known length. Answers false where it was refused. */
export function acceptPage(program: Program, offer: PageOffer, choice: PageChoice): Promise<boolean> {
  const { page, quarterTurns, crop, layers, ratio } = choice;
  const width = crop ? crop.x1 - crop.x0 : choice.width;
  const height = crop ? crop.y1 - crop.y0 : choice.height;
  return lay(program, offer, 'application/pdf', (asset) => ({
    source: { kind: 'page', asset, page, quarterTurns, crop, layers, width, height },
    mmPerUnit: ratio === null ? null : mmPerPoint(ratio),
  }));
}

/** Room kept round a drawing, as a share of its longer side: lines on the very edge are still seen. */
const MARGIN = 0.02;

/** The part of a drawing that is laid down: its main part, with a little room. */
export function drawingPart(drawing: LineDrawing): SourceBox {
  const { x0, y0, x1, y1 } = drawing.mainBox;
  const by = MARGIN * Math.max(x1 - x0, y1 - y0);
  return { x0: x0 - by, y0: y0 - by, x1: x1 + by, y1: y1 + by };
}

/** Lays a line drawing under the storey, ready for a known length. Answers false where it was refused. */
export function acceptLines(
  program: Program,
  offer: LinesOffer,
  choice: { readonly unit: StatedUnit; readonly layers: readonly string[] },
): Promise<boolean> {
  const { drawing } = offer;
  const part = drawingPart(drawing);
  const unit = choice.unit === null ? null : UNIT_MM[choice.unit];
  return lay(program, offer, 'image/vnd.dxf', (asset) => ({
    source: {
      kind: 'lines',
      asset,
      unit,
      offset: { x: drawing.origin.x + part.x0, y: drawing.origin.y - part.y0 },
      layers: choice.layers,
      width: part.x1 - part.x0,
      height: part.y1 - part.y0,
    },
    mmPerUnit: unit,
  }));
}

async function lay(
  program: Program,
  offer: Offer,
  mediaType: string,
  made: (asset: string) => Pick<NewTracing, 'source'> & { readonly mmPerUnit: number | null },
): Promise<boolean> {
  const { session, assets, viewer } = program;
  const asset = await assets.add(offer.bytes, mediaType);
  const { source, mmPerUnit } = made(asset);
  const outcome = perform(
    program,
    addTracing({
      name: offer.name.slice(0, 120),
      lies: { on: 'storey', storey: session.getState().storey, x: 0, y: 0, rotation: 0 },
      source,
      ...(mmPerUnit === null ? {} : { scale: { mmPerUnit, known: [], stated: null } }),
    }),
  );
  if (!outcome.ok) return false;
  program.drawings.now()?.settle(offer, asset);
  const id = outcome.made[0];
  session.set({
    stage: 'drawing',
    tool: 'picture-scale',
    selection: id === undefined ? [] : [{ table: 'tracings', id, part: null }],
  });
  requestAnimationFrame(() => viewer.show({ kind: 'all' }));
  return true;
}
