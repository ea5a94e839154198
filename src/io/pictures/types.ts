/** Media types of pictures that can lie under a plan. */
export type PictureType = 'image/png' | 'image/jpeg' | 'image/webp';

/** EXIF 2.32 (CIPA DC-008), tag 0x0112: 1 is upright; 5 to 8 swap width and height. */
export type Orientation = 1 | 2 | 3 | 4 | 5 | 6 | 7 | 8;

/** Why a file cannot be used as a picture: one plain sentence, shown to the person as it is. */
export interface NotAPicture {
  readonly ok: false;
  readonly message: string;
}

/** What a picture's header says. Width and height are upright pixels: after EXIF rotation. */
export interface PictureHeader {
  readonly ok: true;
  readonly mediaType: PictureType;
  readonly width: number;
  readonly height: number;
  readonly orientation: Orientation;
}

/** Size as stored in the file, before EXIF rotation. */
export interface StoredSize {
  readonly width: number;
  readonly height: number;
  readonly orientation: Orientation;
}

/** A format's reader: the stored size, or a sentence saying what is wrong. Never throws. */
export type HeaderReader = (bytes: Uint8Array) => StoredSize | string;
