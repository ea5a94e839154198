import type { PlanDocument } from '../engine/model/document.ts';
import { assetsOf } from '../engine/model/assets.ts';
import type { Plans } from '../io/storage/plans.ts';
import type { Vault } from '../io/storage/vault.ts';
import { download, fileName } from './download.ts';

const HOUR = 3_600_000;

/** What the list before the page may offer: read from the device, nothing of it opened. */
export async function startChoices(vault: Vault, plans: Plans) {
  const listed = (await plans.list().catch(() => [])).filter((plan) => plan.removed === null);
  return {
    last: vault.load().doc,
    plans: listed,
    async hourAgo(): Promise<PlanDocument | null> {
      const [first] = listed;
      if (first === undefined) return null;
      const state = (await plans.states(first.id)).find((each) => each.at <= Date.now() - HOUR);
      return state === undefined ? null : plans.read(first.id, state.seq);
    },
    read: (id: string) => plans.read(id),
    async saveFile(doc: PlanDocument): Promise<void> {
      const { encodePlan } = await import('../io/planFile.ts');
      const pictures = new Map<string, Uint8Array>();
      for (const hash of assetsOf(doc).keys()) {
        const bytes = await vault.assets.get(hash);
        if (bytes !== null) pictures.set(hash, bytes);
      }
      const whole = encodePlan(doc, pictures);
      // Rather without its pictures than not at all: the file says of itself that they are missing.
      const file = whole.ok ? whole : encodePlan(doc, new Map());
      if (!file.ok) throw new Error(file.message);
      download(fileName(doc.job.title, file.kind.ending), file.kind.mediaType, file.bytes);
    },
  };
}
