/** What this device prefers; no part of any plan. */
export interface Prefs {
  readonly theme: 'system' | 'light' | 'dark';
  readonly units: 'mm' | 'm' | 'ft';
  /** Height of the elevation band as a share of the sheet; closed bands keep it. */
  readonly band: number;
  readonly bandOpen: boolean;
  /** Whether the offer of a plan of one's own has been put away. */
  readonly offerSeen: boolean;
}

const KEY = 'zonewright-prefs';
const DEFAULTS: Prefs = { theme: 'system', units: 'mm', band: 0.38, bandOpen: true, offerSeen: false };

/** Reads what was kept, field by field; anything odd falls back to its default. */
export function readPrefs(text: string | null): Prefs {
  let kept: Record<string, unknown> = {};
  try {
    const parsed: unknown = JSON.parse(text ?? '{}');
    if (typeof parsed === 'object' && parsed !== null) kept = parsed as Record<string, unknown>;
  } catch {
    return DEFAULTS;
  }
  const oneOf = <T>(value: unknown, allowed: readonly T[], otherwise: T): T =>
    allowed.includes(value as T) ? (value as T) : otherwise;
  const band =
    typeof kept['band'] === 'number' && Number.isFinite(kept['band']) ? kept['band'] : DEFAULTS.band;
  return {
    theme: oneOf(kept['theme'], ['system', 'light', 'dark'] as const, DEFAULTS.theme),
    units: oneOf(kept['units'], ['mm', 'm', 'ft'] as const, DEFAULTS.units),
    band: Math.min(0.8, Math.max(0.12, band)),
    bandOpen: kept['bandOpen'] !== false,
    offerSeen: kept['offerSeen'] === true,
  };
}

function storage(): Storage | null {
  try {
    return window.localStorage;
  } catch {
    return null; // storage may be blocked; the program then simply forgets preferences
  }
}

let prefs: Prefs = DEFAULTS;
const listeners = new Set<() => void>();

/** Called once by the page before it draws. */
export function loadPrefs(): void {
  prefs = readPrefs(storage()?.getItem(KEY) ?? null);
  showTheme();
}

function showTheme(): void {
  if (prefs.theme === 'system') delete document.documentElement.dataset['theme'];
  else document.documentElement.dataset['theme'] = prefs.theme;
}

export function setPrefs(patch: Partial<Prefs>): void {
  prefs = { ...prefs, ...patch };
  try {
    storage()?.setItem(KEY, JSON.stringify(prefs));
  } catch {
    // a full or blocked store loses only a preference
  }
  showTheme();
  for (const listener of listeners) listener();
}

export const getPrefs = (): Prefs => prefs;

/** Tells of every later change of a preference. */
export function onPrefs(listener: () => void): () => void {
  listeners.add(listener);
  return () => listeners.delete(listener);
}
