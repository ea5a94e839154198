import { current } from 'immer';
import { runPath } from '../../engine/fabric/path.ts';
import type { Id, Place, PlanDocument } from '../../engine/model/document.ts';
import { rows } from '../../engine/model/tables.ts';
import type { PlanPoint } from '../../engine/model/units.ts';
import type { PlanDraft } from '../transact.ts';
import { patch } from '../transact.ts';
import { inVoids } from './followWalls.ts';
import { storeyOf } from './places.ts';

/** A change of the whole plan view of some storeys: where points go, and by how much lengths along walls grow. */
export interface PlanMap {
  readonly storeys: ReadonlySet<Id>;
  readonly point: (p: PlanPoint) => PlanPoint;
  /** 1 where lengths stay. Heights always stay. */
  readonly factor: number;
}

/** Takes everything drawn on the storeys along; pictures are left to the caller. */
export function mapPlan(draft: PlanDraft, doc: PlanDocument, map: PlanMap): void {
  const { storeys, factor } = map;
  const at = (p: PlanPoint): PlanPoint => map.point({ x: p.x, y: p.y });
  const place = (p: Place): Place => {
    if (!storeys.has(storeyOf(doc, p) ?? '')) return p;
    return p.on === 'face' ? { ...p, along: p.along * factor } : { ...p, ...at(p) };
  };
  for (const n of rows(doc.nodes)) if (storeys.has(n.storey)) patch(draft, 'nodes', n.id, at(n));
  for (const t of rows(doc.roomTags)) if (storeys.has(t.storey)) patch(draft, 'roomTags', t.id, at(t));
  for (const p of rows(doc.points)) patch(draft, 'points', p.id, { place: place(p.place) });
  for (const r of rows(doc.runs)) patch(draft, 'runs', r.id, { corners: r.corners.map(place) });
  for (const o of rows(doc.openings)) {
    if (storeys.has(doc.walls.byId[o.wall]?.storey ?? ''))
      patch(draft, 'openings', o.id, { along: o.along * factor, width: o.width * factor });
  }
  for (const t of rows(doc.things)) {
    const p = t.place;
    if (p.on === 'plan') {
      if (storeys.has(p.storey))
        patch(draft, 'things', t.id, { place: { ...p, outline: p.outline.map(at) } });
    } else if (storeys.has(doc.walls.byId[p.wall]?.storey ?? '')) {
      const along = { along0: p.along0 * factor, along1: p.along1 * factor };
      patch(draft, 'things', t.id, { place: { ...p, ...along } });
    }
  }
  if (factor !== 1) keepPlumb(draft, doc, map);
}

/** Walls keep their thickness when the plan is scaled, so corners over their surfaces do not quite scale with the plan. */
function keepPlumb(draft: PlanDraft, doc: PlanDocument, map: PlanMap): void {
  const now = current(draft) as PlanDocument;
  for (const run of rows(now.runs)) {
    const before = doc.runs.byId[run.id];
    if (!before || before.corners === run.corners) continue;
    const corners = inVoids(doc, now, runPath(doc, before), runPath(now, run), map.point);
    if (corners !== null) patch(draft, 'runs', run.id, { corners });
  }
}
