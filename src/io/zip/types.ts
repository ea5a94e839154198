/** What a zip file may be. Sizes in bytes. */
export interface ZipLimits {
  /** Of the whole file, and of all parts together once unpacked. */
  readonly bytes: number;
  readonly parts: number;
  /** How many times its packed size a part may unpack to. */
  readonly ratio: number;
  /** How large the part of this name may be, unpacked; null for one that does not belong. A folder's name ends with "/". */
  readonly largest: (name: string) => number | null;
}

/** Why a zip file is not read: `at` is the name of the part, or empty for the file as a whole. */
export interface ZipRefusal {
  readonly ok: false;
  readonly at: string;
  readonly message: string;
}

export interface ZipParts {
  readonly ok: true;
  /** Unpacked, by name, without folders. */
  readonly parts: ReadonlyMap<string, Uint8Array>;
}

/** Thrown inside the reader only, and caught at its edge. */
export class ZipRefused extends Error {
  constructor(
    readonly at: string,
    message: string,
  ) {
    super(message);
  }
}

/** 41.5 MB, in the units the limits are told in. */
export const megabytes = (bytes: number): string =>
  `${(bytes / 1024 / 1024).toFixed(1).replace(/\.0$/, '')} MB`;
