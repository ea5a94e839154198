import type { Decoded, DocumentStore, FileProblem } from '../document/types.ts';
import { newDocument } from '../engine/model/defaults.ts';
import type { PlanDocument } from '../engine/model/document.ts';
import { assetsOf } from '../engine/model/assets.ts';
import type { Session, Viewer } from '../tools/app.ts';
import { startSession } from '../tools/session.ts';
import { sha256, type Assets } from './assets.ts';
import { download, fileName } from './download.ts';
import type { LateDrawings } from './drawings/late.ts';
import type { Marks } from './keptSession.ts';
import type { Files, SampleInfo } from './types.ts';
import type { Question } from './question.ts';
import { saveByPicker, type PickedFile, type Picking } from './saveTo.ts';

export interface FileParts {
  readonly store: DocumentStore;
  readonly session: Session;
  readonly viewer: Viewer;
  readonly assets: Assets;
  readonly drawings: LateDrawings;
  readonly leaving: Question;
  readonly samples: readonly SampleInfo[];
  /** What the last visit knew of the plan it left. */
  readonly marks: Marks;
  readonly say: (text: string, tone: 'plain' | 'good') => void;
}

type Picker = (options: unknown) => Promise<PickedFile>;

// Reading and writing of files is fetched when the first is read or written, so that the page opens sooner.
const codec = () => import('../document/codec/file.ts');
const planFile = () => import('../io/planFile.ts');
const pictures = () => import('../io/pictures/load.ts');
const kinds = () => import('../io/drawingKind.ts');

/** Beyond this a picture is not even read; its own reader says what is too large for it, bytes. */
const LARGEST_PICTURE = 50 * 1024 * 1024;

const notOpened = async (name: string, problem: FileProblem): Promise<string> =>
  `${name} was not opened. ${(await codec()).problemText(problem)}. The open plan is untouched.`;

/** Opening and saving of whole files. Nothing replaces the open plan before what comes has proved sound. */
export function createFiles(
  parts: FileParts,
): Files & { readonly isSample: () => boolean; readonly marks: () => Marks } {
  const { store, session, viewer, assets } = parts;
  /** Revision that is in a file of the person's, or came straight from one; null when there is none. */
  let kept = parts.marks.inFile;
  let sample = parts.marks.sample;

  const bare = (doc: PlanDocument): boolean =>
    doc.walls.order.length + doc.points.order.length + doc.tracings.order.length === 0;
  async function mayLeave(): Promise<boolean> {
    const { doc, rev } = store.getState();
    if (rev === kept || rev === sample || bare(doc)) return true;
    const leave = await parts.leaving.ask();
    if (leave === 'save') return (await saveCopy()) === null;
    return leave === 'go';
  }
  function show(doc: PlanDocument): void {
    store.replace(doc);
    const { panel, showZones, snapping, notice } = session.getState();
    session.set({ ...startSession(doc), panel, showZones, snapping, notice });
    // The views hear of the new plan first, then are asked to show it whole.
    requestAnimationFrame(() => viewer.show({ kind: 'all' }));
  }
  async function take(name: string, decoded: Decoded): Promise<string | null> {
    const { checkAssets } = await codec();
    if (!decoded.ok) return notOpened(name, decoded.problem);
    const damaged = await checkAssets(decoded.assets, sha256);
    if (damaged) return notOpened(name, damaged);
    if (!(await mayLeave())) return null;
    const needed = assetsOf(decoded.doc);
    for (const [hash, one] of decoded.assets) {
      await assets.add(one, needed.get(hash)?.mediaType ?? 'application/octet-stream');
    }
    show(decoded.doc);
    kept = store.getState().rev;
    sample = null;
    if (decoded.said !== null) parts.say(decoded.said, 'plain');
    return null;
  }

  async function saveCopy(): Promise<string | null> {
    const { doc, rev } = store.getState();
    const { encodePlan, missingText, readBack } = await planFile();
    const encoded = encodePlan(doc, await assets.gather(assetsOf(doc).keys()));
    if (!encoded.ok) return `The plan was not saved to a file. ${encoded.message}`;
    // Nothing is handed out as saved that this program itself would not open.
    const wrong = await readBack(encoded, doc, sha256);
    if (wrong)
      return `The plan was not saved to a file: it would not open again. ${(await codec()).problemText(wrong)}.`;
    const content = encoded.bytes;
    const { ending, mediaType, endings } = encoded.kind;
    const name = fileName(doc.job.title, ending);
    const picker = (window as { showSaveFilePicker?: Picker }).showSaveFilePicker;
    const types = [{ description: 'Zonewright plan', accept: { [mediaType]: endings } }];
    const picking: Picking = picker
      ? await saveByPicker(
          () => picker({ suggestedName: name, types }),
          content,
          () => performance.now(),
        )
      : { state: 'no-picker', why: null };
    if (picking.state === 'cancelled') return 'Nothing was saved.';
    if (picking.state === 'damaged')
      return `${picking.name} does not read back as it was written. Save it elsewhere.`;
    const without = encoded.missing === 0 ? '' : ` ${missingText(encoded.missing)}`;
    if (picking.state === 'saved') {
      parts.say(`Saved ${picking.name}.${without}`, without === '' ? 'good' : 'plain');
      kept = rev;
    } else {
      // Whether a download arrives cannot be known: it may be refused or cancelled, so the plan is not counted as saved.
      download(name, mediaType, content);
      const why = picking.why === null ? '' : `It could not be written there (${picking.why}). `;
      parts.say(`${why}A copy goes to your downloads as ${name}: see that it is there.${without}`, 'plain');
    }
    return null;
  }

  const readFile = async (
    file: File,
    largest: (head: Uint8Array) => number,
  ): Promise<Uint8Array<ArrayBuffer> | string> => {
    if (file.size === 0) return `${file.name} is empty. The open plan is untouched.`;
    try {
      const most = largest(new Uint8Array(await file.slice(0, 4).arrayBuffer()));
      if (file.size > most)
        return `${file.name} is larger than ${most / 1024 / 1024} MB, too large to open. The open plan is untouched.`;
      return new Uint8Array(await file.arrayBuffer());
    } catch {
      return `${file.name} could not be read. The open plan is untouched.`;
    }
  };

  /** A PDF or line drawing, by its bytes, is offered for choosing: its outcome, or undefined for another kind of file. */
  async function drawing(name: string, bytes: Uint8Array<ArrayBuffer>): Promise<string | null | undefined> {
    const kind = (await kinds()).drawingKind(bytes, name);
    if (kind === null) return undefined;
    parts.say(`Reading ${name}…`, 'plain');
    const problem = await parts.drawings.open(kind, name, bytes);
    if (problem === null) parts.say(`${name} is read: choose what of it lies under the plan.`, 'plain');
    return problem;
  }

  return {
    samples: parts.samples,
    isSample: () => store.getState().rev === sample,
    marks: () => ({ inFile: kept, sample }),
    async newPlan() {
      if (!(await mayLeave())) return null;
      show(newDocument('Untitled plan'));
      kept = store.getState().rev;
      sample = null;
      return null;
    },
    openKept(doc) {
      show(doc);
      kept = null;
      sample = null;
    },
    async open(file) {
      const bytes = await readFile(file, (await planFile()).largestPlan);
      if (typeof bytes === 'string') return bytes;
      const drawn = await drawing(file.name, bytes);
      return drawn === undefined ? take(file.name, (await planFile()).decodePlan(bytes)) : drawn;
    },
    saveCopy,
    async openSample(info) {
      try {
        const response = await fetch(info.file);
        if (!response.ok) return `${info.title} could not be fetched.`;
        // A sample is text alone: what unpacks other files is not fetched for it.
        const { decodeFile } = await codec();
        const decoded = decodeFile(new Uint8Array(await response.arrayBuffer()));
        const problem = await take(info.title, decoded);
        if (problem === null && store.getState().rev === kept) sample = kept;
        return problem;
      } catch {
        return `${info.title} could not be fetched.`;
      }
    },
    async addPicture(file) {
      const bytes = await readFile(file, () => LARGEST_PICTURE);
      if (typeof bytes === 'string') return bytes;
      const drawn = await drawing(file.name, bytes);
      if (drawn !== undefined) return drawn;
      const picture = await (await pictures()).loadPicture(bytes);
      if (!picture.ok) return `${file.name}: ${picture.message}`;
      picture.bitmap.close();
      const asset = await assets.add(bytes, picture.mediaType);
      const { addPicture } = await import('../document/commands/tracings.ts');
      const outcome = store.dispatch(
        addPicture({
          storey: session.getState().storey,
          name: file.name.slice(0, 120),
          mediaType: picture.mediaType,
          asset,
          width: picture.width,
          height: picture.height,
        }),
      );
      if (!outcome.ok) return outcome.reason;
      const id = outcome.made[0];
      session.set({
        stage: 'drawing',
        tool: 'picture-scale',
        selection: id === undefined ? [] : [{ table: 'tracings', id, part: null }],
      });
      requestAnimationFrame(() => viewer.show({ kind: 'all' }));
      return null;
    },
  };
}
