import type { AssetSource } from '../tools/app.ts';

/** Where the bytes of pictures are kept between visits. */
export interface AssetKeeper {
  put(bytes: Uint8Array, mediaType: string): Promise<string>;
  get(hash: string): Promise<Uint8Array | null>;
}

export interface Assets extends AssetSource {
  /** All bytes of these pictures that can be found, for a file. */
  gather(hashes: Iterable<string>): Promise<Map<string, Uint8Array>>;
  /** Hands all that is held to the keeper once more, after it was emptied. */
  keepAgain(): Promise<void>;
}

/** Hex SHA-256, as pictures are named by. */
export async function sha256(bytes: Uint8Array): Promise<string> {
  const digest = await crypto.subtle.digest('SHA-256', bytes as Uint8Array<ArrayBuffer>);
  return [...new Uint8Array(digest)].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}

/**
 * Pictures by their hash: decoded once, one at a time, when first asked for. What cannot be kept on disk stays in
 * memory, so that the picture is at least there while the page is open.
 */
export function createAssets(keeper: AssetKeeper, problem: (message: string) => void): Assets {
  const pictures = new Map<string, ImageBitmap | null>();
  const held = new Map<string, Uint8Array>();
  const types = new Map<string, string>();
  const listeners = new Set<() => void>();
  let line: Promise<void> = Promise.resolve();
  const tell = (): void => {
    for (const listener of [...listeners]) listener();
  };
  const bytes = async (hash: string): Promise<Uint8Array | null> => held.get(hash) ?? keeper.get(hash);

  async function decode(hash: string): Promise<void> {
    const found = await bytes(hash);
    if (!found) return;
    held.set(hash, found);
    const { loadPicture } = await import('../io/pictures/load.ts');
    const loaded = await loadPicture(found as Uint8Array<ArrayBuffer>);
    if (!loaded.ok) {
      problem(loaded.message);
      return;
    }
    pictures.set(hash, loaded.bitmap);
    tell();
  }

  return {
    picture(hash) {
      const known = pictures.get(hash);
      if (known === undefined) {
        pictures.set(hash, null);
        line = line
          .then(() => decode(hash))
          .catch(() => problem('A picture of this plan could not be read.'));
      }
      return known ?? null;
    },
    // A straightened one is made elsewhere: see `withStraightened`.
    shown(source) {
      return source.straighten === null ? this.picture(source.asset) : null;
    },
    bytes,
    async add(added, mediaType) {
      const hash = await sha256(added);
      held.set(hash, added);
      types.set(hash, mediaType);
      if (pictures.get(hash) === null) pictures.delete(hash);
      try {
        await keeper.put(added, mediaType);
      } catch {
        problem('The picture could not be kept on this device. Save a copy of the plan before closing.');
      }
      tell();
      return hash;
    },
    async gather(hashes) {
      const found = new Map<string, Uint8Array>();
      for (const hash of new Set(hashes)) {
        const one = await bytes(hash);
        if (one) found.set(hash, one);
      }
      return found;
    },
    async keepAgain() {
      for (const [hash, one] of held) {
        await keeper.put(one, types.get(hash) ?? 'application/octet-stream').catch(() => undefined);
      }
    },
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}
