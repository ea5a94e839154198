import type { PlanDocument } from '../engine/model/document.ts';
import { rows } from '../engine/model/tables.ts';
import type { KeptPlan, KeptState, Plans } from '../io/storage/plans.ts';
import type { OpenPlan } from './keepPlans.ts';
import { planPicture } from './planPicture.ts';
import type { Files } from './types.ts';

/** The plans of this device as the page uses them. Opening answers a problem as text, or null when it is done. */
export interface KeptPlans {
  list(): Promise<readonly KeptPlan[]>;
  states(id: string): Promise<readonly KeptState[]>;
  /** A drawing of a state and what is in it, without opening it. */
  look(id: string, seq: number): Promise<{ readonly path: string; readonly about: string } | null>;
  open(id: string): Promise<string | null>;
  bringBack(id: string, seq: number): Promise<string | null>;
  setRemoved(id: string, removed: boolean): Promise<void>;
}

const UNREAD = 'That state of the plan could not be read. The open plan is untouched.';

function aboutText(doc: PlanDocument): string {
  const rooms = rows(doc.roomTags).length;
  return `${doc.job.title}: ${doc.walls.order.length} walls, ${rooms} named rooms, ${doc.points.order.length} points, ${doc.runs.order.length} runs.`;
}

/** The list of plans, with what opens them. */
export function createKeptPlans(plans: Plans, open: OpenPlan, files: Pick<Files, 'openKept'>): KeptPlans {
  return {
    list: () => plans.list(),
    states: (id) => plans.states(id),
    async look(id, seq) {
      const doc = await plans.read(id, seq);
      return doc === null ? null : { path: planPicture(doc), about: aboutText(doc) };
    },
    async open(id) {
      const doc = await plans.read(id).catch(() => null);
      if (doc === null) return UNREAD;
      open.next(id);
      files.openKept(doc);
      return null;
    },
    async bringBack(id, seq) {
      const doc = await plans.read(id, seq).catch(() => null);
      if (doc === null) return UNREAD;
      const title = `${doc.job.title.slice(0, 180)} (brought back)`;
      files.openKept({ ...doc, job: { ...doc.job, title } });
      return null;
    },
    setRemoved: (id, removed) => plans.setRemoved(id, removed ? Date.now() : null),
  };
}
