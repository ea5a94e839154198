import type { DistanceTable } from '../../../src/engine/routing/types.ts';
import { readFileSync } from 'node:fs';

/**
 * Reads a symmetric TSPLIB file. Rounding as TSPLIB 95 (G. Reinelt, "TSPLIB 95", sections 2.1 to 2.5) sets it down:
 * EUC_2D to the nearest whole number, ATT pseudo-Euclidean rounded up, GEO from degrees and minutes on a sphere of
 * radius 6378.388 with pi = 3.141592, cut to a whole number plus one.
 */
export function readTsplib(name: string): DistanceTable {
  const text = readFileSync(new URL(`./tsplib/${name}.tsp`, import.meta.url), 'utf8');
  const field = (key: string): string => new RegExp(`^${key}\\s*:\\s*(\\S+)`, 'm').exec(text)?.[1] ?? '';
  const n = Number(field('DIMENSION'));
  const numbers = (section: string): number[] => {
    const body = text.slice(text.indexOf(section) + section.length, text.lastIndexOf('EOF'));
    return body.trim().split(/\s+/).map(Number);
  };
  const kind = field('EDGE_WEIGHT_TYPE');
  const d = new Float64Array(n * n);
  const put = (i: number, j: number, value: number): void => {
    d[i * n + j] = value;
    d[j * n + i] = value;
  };
  if (kind === 'EXPLICIT') {
    const lower = field('EDGE_WEIGHT_FORMAT') === 'LOWER_DIAG_ROW';
    const values = numbers('EDGE_WEIGHT_SECTION');
    let at = 0;
    for (let i = 0; i < n; i += 1)
      for (let j = lower ? 0 : i + 1; j < (lower ? i + 1 : n); j += 1) put(i, j, values[at++] as number);
    if (at !== values.length) throw new Error(`${name}: ${values.length} distances, ${at} wanted`);
    return { n, d };
  }
  const list = numbers('NODE_COORD_SECTION');
  const x = (i: number): number => list[3 * i + 1] as number;
  const y = (i: number): number => list[3 * i + 2] as number;
  const distance = DISTANCES[kind];
  if (distance === undefined || list.length !== 3 * n) throw new Error(`${name}: not read`);
  for (let i = 0; i < n; i += 1) for (let j = 0; j < i; j += 1) put(i, j, distance(x(i), y(i), x(j), y(j)));
  return { n, d };
}

const PI = 3.141592;
const RADIUS = 6378.388;

function radians(value: number): number {
  const degrees = Math.trunc(value);
  return (PI * (degrees + (5 * (value - degrees)) / 3)) / 180;
}

const DISTANCES: Readonly<Record<string, (ax: number, ay: number, bx: number, by: number) => number>> = {
  EUC_2D: (ax, ay, bx, by) => Math.floor(Math.hypot(ax - bx, ay - by) + 0.5),
  ATT: (ax, ay, bx, by) => {
    const r = Math.sqrt(((ax - bx) ** 2 + (ay - by) ** 2) / 10);
    const t = Math.floor(r + 0.5);
    return t < r ? t + 1 : t;
  },
  GEO: (ax, ay, bx, by) => {
    const [la, lo, lb, lp] = [radians(ax), radians(ay), radians(bx), radians(by)];
    const q1 = Math.cos(lo - lp);
    const q2 = Math.cos(la - lb);
    const q3 = Math.cos(la + lb);
    return Math.trunc(RADIUS * Math.acos(0.5 * ((1 + q1) * q2 - (1 - q1) * q3)) + 1);
  },
};
