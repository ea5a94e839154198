import type { DateText, Id, Side } from './ids.ts';
import type { Tracing } from './tracing.ts';
import type { Amp, Metre, Mm, Money, Ohm, PlanPoint, Radians } from './units.ts';

export type { DateText, Id, Side } from './ids.ts';

/** Records by id, and the order people see them in. Every id of `byId` stands in `order` exactly once. */
export interface Table<T> {
  readonly order: readonly Id[];
  readonly byId: Readonly<Record<Id, T>>;
}

/** The rule editions the checks know. A4:2026 was published in April 2026; A2+A3 was withdrawn in October 2026. */
export type Edition = 'bs7671-2018-a3' | 'bs7671-2018-a4';
export type Nation = 'england' | 'wales' | 'scotland' | 'northern-ireland' | 'elsewhere';
export type Earthing = 'TN-C-S' | 'TN-S' | 'TT';

export interface Supply {
  readonly earthing: Earthing;
  /** External earth-fault loop impedance. */
  readonly ze: Ohm;
  /** V, line to neutral. */
  readonly nominalV: number;
  /** Prospective fault current at the board, A; null when not given. */
  readonly faultCurrent: Amp | null;
  /** Resistance of the earth electrode of a TT supply; null when not given. */
  readonly electrode: Ohm | null;
}

export interface Allowances {
  /** Waste and drape, per cent of measured metres and tails, shown on a line of its own. */
  readonly percent: number;
  /** Tail where the box comes later. */
  readonly tailLater: Mm;
  /** Tail where the (metal) box is already fixed. */
  readonly tailFixed: Mm;
  /** Tail at a consumer unit. */
  readonly tailBoard: Mm;
  /** Tail at a ceiling or wall fitting with no box. */
  readonly tailFitting: Mm;
}

/** What a way costs, in points the user sets: compared, never money. */
export interface RouteCosts {
  readonly metre: number;
  readonly bend: number;
  readonly drop: number;
  readonly timberHole: number;
  readonly chaseMetre: number;
  readonly throughWall: number;
  readonly insulationMetre: number;
}

export interface Job {
  readonly title: string;
  readonly notes: string;
  readonly nation: Nation;
  readonly edition: Edition;
  /** True when the building is a new dwelling: heights of accessories are then checked. */
  readonly newDwelling: boolean;
  /**
   * May a cable rely on the strip of a point of another circuit? Off until somebody chooses it, and then only where the
   * edition says so (A4:2026, seen on one public page); otherwise such a stretch is disputed.
   */
  readonly otherCircuitsInStrip: boolean;
  readonly supply: Supply;
  readonly allowances: Allowances;
  readonly routeCosts: RouteCosts;
  /** °C around the cables, for rating factors. */
  readonly ambient: number;
  /** °C at which readings are expected to be taken. */
  readonly testTemperature: number;
}

export interface Joists {
  /** Direction the joists run, in plan. */
  readonly direction: Radians;
  readonly depth: Mm;
  readonly breadth: Mm;
  readonly centres: Mm;
  /** Clear span; null when not known (then no hole window is given). */
  readonly span: Mm | null;
  readonly member: 'solid' | 'engineered';
  /** Which chart of the maker says where engineered joists may be passed, as somebody has noted it; '' when nobody has. */
  readonly chart: string;
}

export type InsulationCover = 'none' | 'thin' | 'thick';

export interface CeilingBuild {
  readonly kind: 'void' | 'solid';
  /** Free depth above the ceiling board. */
  readonly voidDepth: Mm;
  /** Height of the cables above the ceiling surface. */
  readonly cableRise: Mm;
  readonly joists: Joists | null;
  /** Insulation over the cables: thin is up to 100 mm, thick is more. */
  readonly insulation: InsulationCover;
}

export interface FloorBuild {
  readonly kind: 'void' | 'solid';
  readonly voidDepth: Mm;
  /** Depth of the cables below the finished floor. */
  readonly cableDrop: Mm;
  readonly joists: Joists | null;
}

export interface Storey {
  readonly id: Id;
  readonly name: string;
  /** Finished floor above the job's datum. */
  readonly level: Mm;
  readonly ceilingHeight: Mm;
  readonly ceiling: CeilingBuild;
  readonly floor: FloorBuild;
}

export type Material =
  | 'plaster'
  | 'plasterboard'
  | 'dab'
  | 'timber-stud'
  | 'metal-stud'
  | 'batten-void'
  | 'insulation'
  | 'insulated-board'
  | 'block'
  | 'brick'
  | 'sheathing'
  | 'membrane'
  | 'cavity'
  | 'cladding';

export interface Layer {
  readonly material: Material;
  readonly thickness: Mm;
  /** Filled with, or made of, thermal insulation. */
  readonly insulated: boolean;
}

/**
 * Layers from the LEFT side of the wall (as drawn, going from its first node to its second) to the right.
 * Cables of a side lie somewhere within `cableLayer[side]`: the check takes the nearest they may come to each
 * finished surface unless a run states its own depth.
 */
export interface BuildUp {
  readonly id: Id;
  readonly name: string;
  readonly frame: 'timber' | 'metal' | 'masonry';
  readonly layers: readonly Layer[];
  readonly cableLayer: { readonly left: number; readonly right: number };
}

/** A corner or end of walls. Several walls may share one. */
export interface WallNode {
  readonly id: Id;
  readonly storey: Id;
  readonly x: Mm;
  readonly y: Mm;
}

export type WallTop =
  | { readonly kind: 'ceiling' }
  | { readonly kind: 'level'; readonly z: Mm }
  | { readonly kind: 'sloped'; readonly zFrom: Mm; readonly zTo: Mm };

export interface Wall {
  readonly id: Id;
  readonly storey: Id;
  readonly from: Id;
  readonly to: Id;
  readonly buildUp: Id;
  /** Layers read from the right side instead of the left. */
  readonly flipped: boolean;
  readonly top: WallTop;
  /**
   * Can the position of the points on each side be told from the other side of the wall (522.6.202)? null: nobody has
   * said, and then their strips are disputed there.
   */
  readonly toldFromBehind: { readonly left: boolean | null; readonly right: boolean | null };
}

export interface Opening {
  readonly id: Id;
  readonly wall: Id;
  readonly kind: 'door' | 'window' | 'opening';
  /** Along the centre line, from the wall's first node to the near jamb. */
  readonly along: Mm;
  readonly width: Mm;
  readonly sill: Mm;
  readonly head: Mm;
}

/** A name for whichever room holds this spot. Rooms themselves are found, not stored. */
export interface RoomTag {
  readonly id: Id;
  readonly storey: Id;
  readonly x: Mm;
  readonly y: Mm;
  readonly name: string;
  readonly use: 'habitable' | 'kitchen' | 'bathroom' | 'circulation' | 'utility' | 'workshop' | 'other';
}

/**
 * Where a point or a corner of a run is.
 * `along`: mm on the wall's centre line from its first node, so it does not change when a partition is added.
 * A run's corner on a ceiling or floor lies in the void, at the storey's cable height; a point lies on the surface.
 */
export type Place =
  | { readonly on: 'face'; readonly wall: Id; readonly side: Side; readonly along: Mm; readonly z: Mm }
  | { readonly on: 'ceiling'; readonly storey: Id; readonly x: Mm; readonly y: Mm }
  | { readonly on: 'floor'; readonly storey: Id; readonly x: Mm; readonly y: Mm }
  | { readonly on: 'free'; readonly storey: Id; readonly x: Mm; readonly y: Mm; readonly z: Mm };

export type PointKind =
  | 'socket'
  | 'switch-1way'
  | 'switch-2way'
  | 'switch-intermediate'
  | 'switch-pull'
  | 'fused-spur'
  | 'isolator'
  | 'heavy-outlet'
  | 'ceiling-light'
  | 'wall-light'
  | 'extractor'
  | 'smoke-alarm'
  | 'heat-alarm'
  | 'data'
  | 'consumer-unit'
  | 'joint'
  | 'blank-plate';

export type Gangs = 1 | 2 | 3 | 4 | 5 | 6;

/** Across and up the wall. */
export interface PlateSize {
  readonly width: Mm;
  readonly height: Mm;
}

/** `cooker-socket`: a cooker whose control unit has a socket-outlet of its own. */
export type LoadKind = 'cooker' | 'cooker-socket' | 'other';

export interface BoxFitting {
  /** Catalogue box. */
  readonly box: Id;
  /** True when the metal box is fixed before the cable is pulled (short tail). */
  readonly fixedFirst: boolean;
}

export interface Point {
  readonly id: Id;
  /** Number on labels and sheets; never changes, never reused. */
  readonly label: string;
  readonly kind: PointKind;
  readonly name: string;
  readonly place: Place;
  /** Gangs of the accessory: how many switches, sockets or outlets. The width of its plate is another thing. */
  readonly gangs: Gangs;
  /** Size of its plate or body as typed; null to take what is usual for its kind (`plateOf`). */
  readonly plate: PlateSize | null;
  readonly box: BoxFitting | null;
  /** Visible after fit-out: a hidden or dummy point gives a disputed zone only. */
  readonly visible: boolean;
  readonly circuit: Id | null;
  /** W; null when not stated. */
  readonly load: number | null;
  /** What takes that load; null until someone has said: then nothing is taken off it. */
  readonly loadKind: LoadKind | null;
  /** For a switch: the points each of its gangs works, first gang first; gangs past the end work nothing. */
  readonly controls: readonly (readonly Id[])[];
}

export interface Device {
  readonly type: 'B' | 'C';
  readonly rating: Amp;
  /** Residual current protection, mA; null for none. */
  readonly rcd: number | null;
}

export interface Circuit {
  readonly id: Id;
  readonly label: string;
  readonly name: string;
  readonly topology: 'ring' | 'radial' | 'lighting';
  readonly device: Device;
  /** Consumer unit it is fed from; null when not chosen. */
  readonly board: Id | null;
  readonly cable: Id;
  /** Three-core cable, where switching needs it. */
  readonly cable3: Id | null;
  /** The way the person chose for suggestions. */
  readonly way: 'ceiling' | 'walls' | 'floor' | null;
  /** Points pinned to the start and to the end of the order. */
  readonly first: readonly Id[];
  readonly last: readonly Id[];
  /** Design current, A; null to add up the loads. */
  readonly designCurrent: Amp | null;
}

export type Fixing = 'clipped' | 'in-plaster' | 'chase' | 'in-stud' | 'in-void' | 'conduit';

/** 522.6.204: what makes a cable outside the zones acceptable. Thin plaster capping is not protection. */
export type Protection =
  'none' | 'capping' | 'earthed-armour' | 'earthed-conduit' | 'earthed-trunking' | 'steel-3mm' | 'selv-pelv';

export interface RunProgress {
  readonly pulled: DateText | null;
  readonly labelled: DateText | null;
  readonly photographed: DateText | null;
  readonly tested: DateText | null;
  readonly covered: DateText | null;
}

export interface AsLaid {
  readonly state: 'not-recorded' | 'as-drawn' | 'differently';
  readonly note: string;
}

/** One uncut length between two terminations. */
export interface Run {
  readonly id: Id;
  readonly label: string;
  readonly circuit: Id | null;
  readonly cable: Id;
  /** A null end is a parked end: on no point yet. */
  readonly from: Id | null;
  readonly to: Id | null;
  /** Corners between the two terminations, in order. */
  readonly corners: readonly Place[];
  readonly fixing: Fixing;
  /** Cable centre from the finished surface of the side it is drawn on; null to take it from the build-up. */
  readonly depth: Mm | null;
  readonly protection: Protection;
  /** Overrides of the tails; null for the allowance of that termination. */
  readonly tailFrom: Mm | null;
  readonly tailTo: Mm | null;
  readonly origin: 'drawn' | 'suggested';
  readonly locked: boolean;
  readonly progress: RunProgress;
  readonly asLaid: AsLaid;
  readonly notes: string;
}

export type ThingKind =
  | 'no-cable'
  | 'unit'
  | 'worktop'
  | 'radiator'
  | 'bracket'
  | 'bath'
  | 'shower'
  | 'shower-head'
  | 'sink'
  | 'hob'
  | 'hot-pipe'
  | 'gas-pipe'
  | 'insulation'
  | 'polystyrene'
  | 'beam';

export type ThingPlace =
  | {
      readonly on: 'face';
      readonly wall: Id;
      readonly side: Side;
      readonly along0: Mm;
      readonly along1: Mm;
      readonly z0: Mm;
      readonly z1: Mm;
    }
  | {
      readonly on: 'plan';
      readonly storey: Id;
      readonly outline: readonly PlanPoint[];
      readonly z0: Mm;
      readonly z1: Mm;
      /** For insulation and no-cable places: which void it lies in; 'room' for things that stand in the room. */
      readonly where: 'room' | 'ceiling' | 'floor';
    };

/** Furniture, pipes, insulation and no-cable places. */
export interface Thing {
  readonly id: Id;
  readonly kind: ThingKind;
  readonly name: string;
  readonly place: ThingPlace;
}

/** BS 7671 Table 4D5: 70 °C thermoplastic flat cable with protective conductor. */
export type RatedBy = '4D5';

export interface DrumOffer {
  readonly length: Metre;
  readonly price: Money | null;
}

export interface Cable {
  readonly id: Id;
  readonly name: string;
  readonly use: 'power' | 'data' | 'alarm';
  /** Insulated cores, without the protective conductor. */
  readonly cores: number;
  /** mm² of line and of protective conductor. */
  readonly csa: number;
  readonly cpc: number;
  /** Table its ratings and its voltage drop are read from; null where there is none here: then neither is checked. */
  readonly ratedBy: RatedBy | null;
  /** Overall size: major and minor axis. */
  readonly width: Mm;
  readonly height: Mm;
  readonly drums: readonly DrumOffer[];
  /** Lengths already owned. */
  readonly remnants: readonly Metre[];
}

export interface Box {
  readonly id: Id;
  readonly name: string;
  readonly gangs: 1 | 2;
  readonly depth: Mm;
  readonly mount: 'metal' | 'dry-lining' | 'surface' | 'round';
}

/** "I know, and here is why": kept and printed with the finding it belongs to. */
export interface Acceptance {
  readonly id: Id;
  /** `Finding.key`. */
  readonly finding: string;
  readonly reason: string;
  readonly by: string;
  readonly date: DateText;
}

export type ReadingKind =
  | 'r1'
  | 'rn'
  | 'r2'
  | 'ring-line-neutral'
  | 'ring-line-earth'
  | 'r1r2'
  | 'insulation-line-neutral'
  | 'insulation-line-earth'
  | 'continuity';

/** A meter reading someone took; Ω, or MΩ for insulation. */
export interface Reading {
  readonly id: Id;
  readonly circuit: Id | null;
  readonly run: Id | null;
  readonly point: Id | null;
  readonly kind: ReadingKind;
  readonly value: number;
  readonly stage: 'before-boarding' | 'after-boarding' | 'final';
  readonly date: DateText;
  readonly instrument: string;
  readonly by: string;
  readonly note: string;
}

/** The tables of records, by name. `cables` and `boxes` are the catalogue. */
export interface Tables {
  storeys: Storey;
  tracings: Tracing;
  buildUps: BuildUp;
  nodes: WallNode;
  walls: Wall;
  openings: Opening;
  roomTags: RoomTag;
  things: Thing;
  points: Point;
  circuits: Circuit;
  runs: Run;
  cables: Cable;
  boxes: Box;
  acceptances: Acceptance;
  readings: Reading;
}
export type TableName = keyof Tables;
/** The tables of a plan as they stand in it: each record under its id. */
export type PlanTables = { readonly [K in TableName]: Table<Tables[K]> };

export interface PlanDocument extends PlanTables {
  readonly format: 'zonewright-plan';
  readonly version: 2;
  readonly job: Job;
  /** Last number given out per prefix (w, n, p, c, r, ...): numbers are never reused. */
  readonly counters: Readonly<Record<string, number>>;
}
