import { POINT_KINDS } from '../../model/pointKinds.ts';
import type { Circuit, Point } from '../../model/document.ts';
import { hasRcd30 } from '../../zones/surfaces.ts';
import type { CheckContext, Draft, Rule } from '../rule.ts';
import { list, placeOfPoint } from '../words.ts';
import { agreed } from '../../model/evidence.ts';

function lacking(ctx: CheckContext, circuit: Circuit, which: (p: Point) => boolean, what: string): Draft[] {
  if (hasRcd30(ctx.rules, circuit)) return [];
  const points = (ctx.circuitPoints.get(circuit.id) ?? [])
    .flatMap((id) => ctx.doc.points.byId[id] ?? [])
    .filter(which);
  const [first] = points;
  if (first === undefined) return [];
  const labels = points.map((p) => p.label);
  const said =
    labels.length > 6 ? `${labels.slice(0, 5).join(', ')} and ${labels.length - 5} more` : list(labels);
  const has = circuit.device.rcd === null ? 'no RCD' : `an RCD of ${circuit.device.rcd} mA`;
  return [
    {
      about: circuit.id,
      circuit: circuit.id,
      point: first.id,
      at: placeOfPoint(ctx, first),
      message: `Circuit ${circuit.label} feeds ${what} (${said}) and has ${has}.`,
      fix: 'Give the circuit an RCD of 30 mA or less; the designer decides.',
    },
  ];
}

/** 411.3.3: socket-outlets rated up to 32 A. */
export const socketNoRcd: Rule<'circuit'> = {
  id: 'socket-no-rcd',
  title: 'Socket-outlets without a 30 mA RCD',
  looksAt: 'circuit',
  severity: 'error',
  stage: 'circuits',
  source: (rules) => agreed(`${rules.name} 411.3.3 (socket-outlets rated 32 A or less)`),
  find: (ctx, circuit) => lacking(ctx, circuit, (p) => p.kind === 'socket', 'socket-outlets'),
};

/** 411.3.4: AC final circuits that supply luminaires in domestic premises. */
export const luminaireNoRcd: Rule<'circuit'> = {
  id: 'luminaire-no-rcd',
  title: 'Lights without a 30 mA RCD',
  looksAt: 'circuit',
  severity: 'error',
  stage: 'circuits',
  source: (rules) => agreed(`${rules.name} 411.3.4 (final circuits for luminaires in domestic premises)`),
  find: (ctx, circuit) => lacking(ctx, circuit, (p) => POINT_KINDS[p.kind].isLight, 'lights'),
};
