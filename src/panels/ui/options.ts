import type {
  Fixing,
  Material,
  Nation,
  PlanDocument,
  Protection,
  RoomTag,
  ThingKind,
} from '../../engine/model/document.ts';
import { rows } from '../../engine/model/tables.ts';
import type { Option } from './fields.tsx';
import { circuitName } from './names.ts';

const list = <T extends string>(words: Readonly<Record<T, string>>): readonly Option<T>[] =>
  (Object.keys(words) as T[]).map((value) => ({ value, text: words[value] }));

/** Stands for null in a list of choices. */
export const NONE = '';

export const FIXINGS = list<Fixing>({
  clipped: 'Clipped to the surface',
  'in-plaster': 'Buried in plaster',
  chase: 'In a chase',
  'in-stud': 'In a stud wall',
  'in-void': 'In a void',
  conduit: 'In conduit',
});

/** 522.6.204 names what counts; thin plaster capping does not. */
export const PROTECTIONS = list<Protection>({
  none: 'None',
  capping: 'Plaster capping (does not count)',
  'earthed-armour': 'Earthed armour or screen',
  'earthed-conduit': 'Earthed metal conduit',
  'earthed-trunking': 'Earthed metal trunking',
  'steel-3mm': 'Steel against nails and screws',
  'selv-pelv': 'SELV or PELV circuit',
});

export const MATERIALS = list<Material>({
  plaster: 'Wet plaster',
  plasterboard: 'Plasterboard',
  dab: 'Dabs of adhesive',
  'timber-stud': 'Timber stud',
  'metal-stud': 'Metal stud',
  'batten-void': 'Battens and void',
  insulation: 'Insulation',
  'insulated-board': 'Insulated board',
  block: 'Block',
  brick: 'Brick',
  sheathing: 'Sheathing',
  membrane: 'Membrane',
  cavity: 'Cavity',
  cladding: 'Cladding',
});

export const ROOM_USES = list<RoomTag['use']>({
  habitable: 'Living or sleeping',
  kitchen: 'Kitchen',
  bathroom: 'Bath or shower',
  circulation: 'Hall, lobby, landing',
  utility: 'Utility or store',
  workshop: 'Workshop',
  other: 'Other',
});

export const THINGS = list<ThingKind>({
  'no-cable': 'No-cable place',
  unit: 'Fitted unit',
  worktop: 'Worktop',
  radiator: 'Radiator',
  bracket: 'Bracket or fixing',
  bath: 'Bath',
  shower: 'Shower with a tray',
  'shower-head': 'Shower head, no tray',
  sink: 'Sink',
  hob: 'Hob',
  'hot-pipe': 'Hot pipe',
  'gas-pipe': 'Gas pipe',
  insulation: 'Insulation',
  polystyrene: 'Polystyrene',
  beam: 'Beam',
});

export const NATIONS = list<Nation>({
  england: 'England',
  wales: 'Wales',
  scotland: 'Scotland',
  'northern-ireland': 'Northern Ireland',
  elsewhere: 'Elsewhere',
});

export const EDITIONS = list<PlanDocument['job']['edition']>({
  'bs7671-2018-a4': 'BS 7671:2018 + A4:2026',
  'bs7671-2018-a3': 'BS 7671:2018 + A2:2022 + A3:2024',
});

export const circuitOptions = (doc: PlanDocument, none: string): readonly Option<string>[] => [
  { value: NONE, text: none },
  ...rows(doc.circuits).map((each) => ({ value: each.id, text: circuitName(each) })),
];

export const cableOptions = (doc: PlanDocument): readonly Option<string>[] =>
  rows(doc.cables).map((each) => ({ value: each.id, text: each.name }));

export const buildUpOptions = (doc: PlanDocument): readonly Option<string>[] =>
  rows(doc.buildUps).map((each) => ({ value: each.id, text: each.name }));

/** Null for the first choice. */
export const orNull = (value: string): string | null => (value === NONE ? null : value);
