/** What the browser's own file picker gives, as far as it is used here. */
export interface PickedFile {
  readonly name: string;
  createWritable(): Promise<{ write(content: Uint8Array): Promise<void>; close(): Promise<void> }>;
  getFile(): Promise<{ arrayBuffer(): Promise<ArrayBuffer> }>;
}

export type Picking =
  | { readonly state: 'saved'; readonly name: string }
  | { readonly state: 'cancelled' }
  /** The picker is no way to save here: `why` is null where it never came up. */
  | { readonly state: 'no-picker'; readonly why: string | null }
  | { readonly state: 'damaged'; readonly name: string };

/** Nobody reads a file dialog and closes it again in this time, ms: a refusal as quick as that is the browser's own. */
export const QUICKEST_CANCEL = 250;

/**
 * Writes `content` where the person picks, and reads it back. Their own cancel is told apart from a browser that refuses
 * or shuts the picker by itself (no screen to show it on, a policy, a lost permission): then another way must be taken.
 */
export async function saveByPicker(
  picker: () => Promise<PickedFile>,
  content: Uint8Array,
  now: () => number,
): Promise<Picking> {
  const asked = now();
  let handle: PickedFile;
  try {
    handle = await picker();
  } catch (error) {
    const cancel = error instanceof DOMException && error.name === 'AbortError';
    return cancel && now() - asked >= QUICKEST_CANCEL
      ? { state: 'cancelled' }
      : { state: 'no-picker', why: null };
  }
  try {
    const stream = await handle.createWritable();
    await stream.write(content);
    await stream.close();
    const back = new Uint8Array(await (await handle.getFile()).arrayBuffer());
    return same(back, content)
      ? { state: 'saved', name: handle.name }
      : { state: 'damaged', name: handle.name };
  } catch (error) {
    return { state: 'no-picker', why: error instanceof Error ? error.message : String(error) };
  }
}

function same(a: Uint8Array, b: Uint8Array): boolean {
  return a.length === b.length && a.every((byte, at) => byte === b[at]);
}
