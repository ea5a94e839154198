import type { DocumentStore } from '../document/types.ts';
import type { Derived } from '../engine/derive/types.ts';
import type { PictureSource } from '../engine/geometry/straightened.ts';
import type { MmBox } from './camera.ts';
import type { DrawingSource } from './drawings.ts';
import type { Manner, Preview, SessionState, ToolEvent } from './types.ts';

type Unsubscribe = () => void;

/** A small observable of what the person sees; React reads it through useSyncExternalStore with a selector. */
export interface Session {
  getState(): SessionState;
  set(patch: Partial<SessionState>): void;
  subscribe(listener: (state: SessionState) => void): Unsubscribe;
}

/** The latest derivation. It may lag the document by some milliseconds: `rev` says which revision it is of. */
export interface DerivedSource {
  get(): { readonly derived: Derived; readonly rev: number };
  subscribe(listener: () => void): Unsubscribe;
}

/** Runs the current tool: keeps its state, does its commands, publishes its preview. No React state inside. */
export interface ToolRunner {
  event(event: ToolEvent, scale: number): void;
  preview(): Preview | null;
  ask(): { readonly label: string; readonly value: string; readonly focus?: boolean } | null;
  /** What the person is typing into the entry box: the preview follows it, and the next click uses it. Null: nothing. */
  typing(text: string | null): void;
  /** What stands in the entry box unentered, or null. Gone after a click, an entry, a cancel or another tool. */
  typed(): string | null;
  /** True while a gesture or chain is under way. */
  busy(): boolean;
  /** What the tool in hand wants of the surface it is used on. */
  manner(): Manner;
  /** Fetches the tools that are not there yet, now that nothing else is pressing. */
  fetchLater(): void;
  cancel(): void;
  subscribe(listener: () => void): Unsubscribe;
}

/** Pictures of the plan by the SHA-256 of their bytes. */
export interface AssetSource {
  /** Decoded picture, upright; null until it is ready (subscribers hear when it is). */
  picture(hash: string): ImageBitmap | HTMLImageElement | null;
  /** What a tracing shows of a picture: straightened where it is to be. Null until it is ready. */
  shown(source: PictureSource): ImageBitmap | HTMLImageElement | null;
  bytes(hash: string): Promise<Uint8Array | null>;
  add(bytes: Uint8Array, mediaType: string): Promise<string>;
  subscribe(listener: () => void): Unsubscribe;
}

/** A wish to bring a place into view: views listen, findings and lists speak. */
export interface Viewer {
  /** Plan camera to a place or to everything; band to a face. */
  show(target: ShowTarget): void;
  subscribe(listener: (target: ShowTarget) => void): Unsubscribe;
  /** Where the plan camera looks, as the plan view last told; null before there is one. */
  look(): PlanLook | null;
  /** For the plan view: its camera has moved. */
  moved(look: PlanLook): void;
}
/** The middle of the plan's canvas, mm, and screen pixels per mm. */
export interface PlanLook {
  readonly x: number;
  readonly y: number;
  readonly scale: number;
}
export type ShowTarget =
  | ({ readonly kind: 'look' } & PlanLook)
  | { readonly kind: 'all' }
  | { readonly kind: 'plan'; readonly x: number; readonly y: number; readonly span: number }
  /** All of a box of the plan, with room round it; nothing moves where it is in view already. */
  | { readonly kind: 'box'; readonly box: MmBox }
  | { readonly kind: 'face'; readonly face: string; readonly u: number | null }
  | { readonly kind: 'zoom'; readonly by: number; readonly surface: 'plan' | 'face' };

/** What views and panels are given. Made once in main.tsx. */
export interface App {
  readonly store: DocumentStore;
  readonly session: Session;
  readonly derived: DerivedSource;
  readonly runner: ToolRunner;
  readonly assets: AssetSource;
  readonly drawings: DrawingSource;
  readonly viewer: Viewer;
}
