import type { Command } from '../document/types.ts';
import type { Derived } from '../engine/derive/types.ts';
import type { Stage } from '../engine/checks/types.ts';
import type { FaceId, RoomId } from '../engine/fabric/types.ts';
import type { Gangs, Id, PlanDocument, PointKind, TableName } from '../engine/model/document.ts';
import type { ProposedWall } from '../engine/model/proposedWall.ts';
import type { DrawingSource } from './drawings.ts';
import type { FacePoint, Mm, PlanPoint, Px, ScreenPoint } from '../engine/model/units.ts';

/** A record someone can select. `part` is a run's stretch or corner ("leg:3", "corner:2"), else null. */
export interface Ref {
  readonly table: TableName;
  readonly id: Id;
  readonly part: string | null;
}

export type ToolId =
  | 'select'
  | 'measure'
  | 'picture-move'
  | 'picture-straighten'
  | 'picture-scale'
  | 'proposed-walls'
  | 'wall'
  | 'opening'
  | 'room-name'
  | 'thing'
  | 'point'
  | 'assign'
  | 'run';

/** What the person sees and does now; never saved in the plan (a copy is kept on the device to come back to). */
export interface SessionState {
  readonly stage: Stage;
  readonly tool: ToolId;
  readonly storey: Id;
  readonly selection: readonly Ref[];
  readonly hover: Ref | null;
  /** Room whose faces are unrolled in the band below the plan. */
  readonly room: RoomId | null;
  readonly face: FaceId | null;
  /** Lit by a finding or a figure of the take-off: `run:r1`, `run:r1:2` (stretch), `point:p3`, `face:w1.left.0`. */
  readonly lit: ReadonlySet<string>;
  /** Choices of the tools, kept between uses. */
  readonly choices: ToolChoices;
  /** One line under the plan: what the tool waits for. */
  readonly hint: string;
  /** Last thing said to the person (also to screen readers). */
  readonly notice: {
    readonly text: string;
    readonly tone: 'plain' | 'bad' | 'good';
    readonly at: number;
  } | null;
  readonly showZones: boolean;
  readonly snapping: boolean;
  readonly panel: 'tools' | 'findings' | 'list' | null;
  /** Walls found on a drawing that nobody has accepted or refused yet; null for none. */
  readonly proposal: WallProposal | null;
}

/** Walls that a drawing seems to show, plan mm, and which of them the person means to take. */
export interface WallProposal {
  readonly storey: Id;
  /** Name of the tracing they were found on. */
  readonly from: string;
  readonly walls: readonly ProposedWall[];
  /** By their places in `walls`. */
  readonly ticked: ReadonlySet<number>;
  /** The one pointed at, in the list or on the plan. */
  readonly chosen: number | null;
  /** What this way of finding walls cannot see, in plain sentences. */
  readonly blind: string;
}

export interface ToolChoices {
  readonly buildUp: Id | null;
  readonly opening: 'door' | 'window' | 'opening';
  readonly pointKind: PointKind;
  readonly gangs: Gangs;
  readonly pointHeight: Mm | null;
  readonly circuit: Id | null;
  readonly cable: Id | null;
  readonly void: 'ceiling' | 'floor';
  readonly thing: string;
}

/** Where a pointer or key event happened: on the plan, or on a face in the band. */
export type Spot =
  | { readonly surface: 'plan'; readonly at: PlanPoint }
  | { readonly surface: 'face'; readonly face: FaceId; readonly at: FacePoint };

export type ToolEvent =
  | {
      readonly type: 'down' | 'move' | 'up' | 'double';
      readonly spot: Spot;
      readonly screen: ScreenPoint;
      readonly shift: boolean;
      readonly alt: boolean;
      readonly ctrl: boolean;
      readonly touch: boolean;
    }
  | {
      readonly type: 'key';
      readonly key: string;
      readonly shift: boolean;
      readonly ctrl: boolean;
      /** Which surface had the keyboard; the plan when left out. */
      readonly surface?: 'plan' | 'face';
    }
  /** A length, height or position typed in the entry box by the pointer. */
  | { readonly type: 'typed'; readonly text: string }
  | { readonly type: 'cancel' };

/** What a tool may look at. Never changes during one event. */
export interface ToolContext {
  readonly doc: PlanDocument;
  readonly derived: Derived;
  readonly session: SessionState;
  /** Screen pixels per mm where the event happened: tolerances are in screen pixels. */
  readonly scale: number;
  readonly tolerance: Px;
  /** What stands in the entry box and has not been entered yet: the next click uses it. Null or left out for nothing. */
  readonly typed?: string | null;
  /** Where the lines of tracings are found; left out where nothing is traced. */
  readonly drawings?: DrawingSource | undefined;
}

/** Drawn on the overlay in the space of its surface; never picked, never saved. */
export type PreviewMark =
  | {
      readonly kind: 'line';
      readonly points: readonly (PlanPoint | FacePoint)[];
      readonly look: 'draft' | 'guide' | 'good' | 'bad' | 'disputed' | 'snap';
      /** Half width in mm for walls; 0 for a hairline. */
      readonly half?: Mm;
      readonly closed?: boolean;
    }
  | { readonly kind: 'label'; readonly at: PlanPoint | FacePoint; readonly text: string }
  | { readonly kind: 'spot'; readonly at: PlanPoint | FacePoint; readonly look: 'snap' | 'draft' | 'handle' }
  /** A point's plan symbol, turned to look along `into` (unit vector, plan); upright where that is null. */
  | {
      readonly kind: 'symbol';
      readonly at: PlanPoint | FacePoint;
      readonly point: { readonly kind: PointKind; readonly gangs: Gangs };
      readonly into: PlanPoint | null;
    };

export interface Preview {
  readonly plan: readonly PreviewMark[];
  readonly faces: ReadonlyMap<FaceId, readonly PreviewMark[]>;
}

/** What one event made of a tool. A command is done once, when the gesture ends. */
export interface ToolStep<S> {
  readonly state: S;
  readonly preview: Preview | null;
  readonly hint: string;
  readonly command?: Command;
  readonly select?: readonly Ref[];
  readonly session?: Partial<SessionState>;
  /**
   * Ask the person for a typed value next to the pointer ("Length"), keeping what they typed. With `focus` the entry
   * takes the keyboard at once, for questions that must be answered before anything else.
   */
  readonly ask?: { readonly label: string; readonly value: string; readonly focus?: boolean } | null;
  readonly notice?: string;
}

/** What a tool wants of the surfaces it is used on, and of the keyboard there. */
export interface Manner {
  /**
   * `pick`: the arrow keys walk through the records, or move what is selected, and one finger on bare ground moves the
   * picture. `place`: the arrow keys move a cursor of their own, and Enter is a click there.
   */
  readonly pointer: 'pick' | 'place';
  /** Keys the tool itself understands while it is busy, with the words of their buttons. Letters are small. */
  readonly keys: readonly { readonly key: string; readonly words: string }[];
  /** At rest a second click on the very place of the last one begins something new. */
  readonly clicksAgain: boolean;
}

export const PICKS: Manner = { pointer: 'pick', keys: [], clicksAgain: false };
export const PLACES: Manner = { pointer: 'place', keys: [], clicksAgain: false };

/** A tool: a discriminated union of states and one pure step. */
export interface Tool<S> {
  readonly id: ToolId;
  readonly manner: Manner;
  readonly start: (ctx: ToolContext) => ToolStep<S>;
  readonly step: (state: S, event: ToolEvent, ctx: ToolContext) => ToolStep<S>;
  /** Is a gesture or a chain under way, which a change of the plan from elsewhere would upset? */
  readonly busy: (state: S) => boolean;
  /** For a tool whose rest is still to be fetched: may it take this event by itself? Left out: all of them. */
  readonly takes?: (event: ToolEvent) => boolean;
}
