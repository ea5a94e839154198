import type { Edition } from '../model/document.ts';
import type { Evidence } from '../model/evidence.ts';
import type { Mm } from '../model/units.ts';

/** The figures and the logic of one edition for cables concealed in walls. */
export interface EditionRules {
  readonly edition: Edition;
  /** As printed on findings and sheets. */
  readonly name: string;
  /** Band under the top of the wall. */
  readonly topBand: Mm;
  /** Band each side of an angle between adjoining walls. */
  readonly angleBand: Mm;
  /** Nearer than this to a surface, a cable is shallow. */
  readonly shallow: Mm;
  /** A wall of this thickness or less carries a point's zone to its reverse side. */
  readonly reverseWall: Mm;
  /** Residual operating current that counts as additional protection. */
  readonly rcdMilliamps: number;
  /** May a circuit rely on the strip of a point of another circuit? */
  readonly otherCircuits: 'permitted' | 'disputed';
  /** Does 522.6.204 protection stand in for the zone in a metal-framed wall, less than 50 mm deep? */
  readonly protectionFreesMetal: boolean;
  /** Clause that holds the zones, and the one for metal-framed walls. */
  readonly zoneClause: string;
  readonly metalClause: string;
  /** How well the logic of each is known; the figures themselves are agreed in both editions. */
  readonly zoneRank: Evidence;
  readonly metalRank: Evidence;
}

// BS 7671 522.6.201-204 and 415.1.1: 150, 150, 50, 100 mm and 30 mA. Evidence: two or more public pages agree.
const FIGURES = { topBand: 150, angleBand: 150, shallow: 50, reverseWall: 100, rcdMilliamps: 30 } as const;

/**
 * Both editions. The figures are the same; the logic differs in two places: metal-framed walls, and the strip of
 * another circuit's point. The 2026 logic was seen at one public source only: strict by default, to be verified
 * against the purchased standard.
 */
export const EDITIONS: Readonly<Record<Edition, EditionRules>> = {
  'bs7671-2018-a3': {
    ...FIGURES,
    edition: 'bs7671-2018-a3',
    name: 'BS 7671:2018+A2:2022+A3:2024',
    otherCircuits: 'disputed',
    protectionFreesMetal: true,
    zoneClause: '522.6.202',
    metalClause: '522.6.203',
    zoneRank: 'two-sources',
    metalRank: 'two-sources',
  },
  'bs7671-2018-a4': {
    ...FIGURES,
    edition: 'bs7671-2018-a4',
    name: 'BS 7671:2018+A4:2026',
    otherCircuits: 'permitted',
    protectionFreesMetal: false,
    zoneClause: '522.6.202 and Table 52.1',
    metalClause: '522.6.202 and Table 52.1 (metal-framed)',
    zoneRank: 'one-source',
    metalRank: 'one-source',
  },
};

/** Where 522.6.202 and the practice it leaves open are quoted: zones of points are as wide and high as their plate. */
export const PLATE_WIDTH_SOURCE = 'practice: BS 7671 gives no width; as wide and high as the plate';

/** What decides whether a concealed cable may be where it is. */
export interface Placement {
  readonly metal: boolean;
  /** Less than 50 mm from the surface in question. */
  readonly shallow: boolean;
  /** Protected as 522.6.204 says. */
  readonly p204: boolean;
}

/**
 * Must the cable be in a permitted zone of the surface? False when it is 50 mm deep or more there, or protected as
 * 522.6.204 says (in the 2026 edition that does not free a shallow cable in a metal-framed wall).
 */
export function zoneNeeded(rules: EditionRules, at: Placement): boolean {
  if (!at.shallow) return false;
  return !at.p204 || (at.metal && !rules.protectionFreesMetal);
}

/**
 * Does the cable need a 30 mA RCD or 522.6.204 protection? Shallow in any wall (522.6.202), at any depth in a
 * metal-framed one (522.6.203; in the 2026 edition Table 52.1).
 */
export function extraProtectionNeeded(at: Pick<Placement, 'metal' | 'shallow'>): boolean {
  return at.shallow || at.metal;
}
