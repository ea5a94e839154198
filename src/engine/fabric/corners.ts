import { lineMeeting } from '../geometry/segment.ts';
import { vectorCross, vectorDot, vectorSub } from '../geometry/vector.ts';
import type { Mm, PlanPoint } from '../model/units.ts';
import { isCap, stripPoint } from './strips.ts';
import type { Joint, Strip } from './strips.ts';
import { IN_LINE_ANGLE, MITRE_LIMIT, SHORTEST_FACE, SURFACE_TOLERANCE } from './tolerances.ts';
import type { Loop } from './trace.ts';

/** A face to be: strips in line with one another, from corner a to corner b, and the joint to the next. */
export interface Course {
  readonly strips: readonly Strip[];
  readonly a: PlanPoint;
  readonly b: PlanPoint;
  readonly joint: Joint;
}

interface Draft {
  readonly strips: readonly Strip[];
  readonly joint: Joint;
  /** s on the first strip where it begins, s on the last where it ends. */
  begin: Mm;
  end: Mm;
}

const PARALLEL = 1e-9;
const QUARTER = Math.PI / 4;

/**
 * The corners of one loop: surfaces in line are joined, neighbours are brought to where their surfaces meet, and
 * stretches swallowed by the thickness of their neighbours are dropped. Fewer than two courses: nothing is left.
 */
export function loopCourses(loop: Loop): Course[] {
  const drafts = joinInLine(loop);
  if (drafts.length < 2) return [];
  for (let i = 0; i < drafts.length; i++) meet(drafts, i, true);
  for (;;) {
    let worst = -1;
    let shortest: Mm = SHORTEST_FACE;
    drafts.forEach((d, i) => {
      const length = draftLength(d);
      if (length < shortest) {
        shortest = length;
        worst = i;
      }
    });
    if (worst < 0) break;
    if (drafts.length <= 2) return [];
    const before = (worst + drafts.length - 1) % drafts.length;
    const kept = drafts[before] as Draft;
    const gone = drafts[worst] as Draft;
    // Two turns in a row are one turn: (π - a) + (π - b) = π - (a + b - π).
    const angle = Math.min(Math.max(kept.joint.angle + gone.joint.angle - Math.PI, 0), 2 * Math.PI);
    drafts[before] = { ...kept, joint: { angle, free: false } };
    drafts.splice(worst, 1);
    meet(drafts, worst === 0 ? drafts.length - 1 : worst - 1, false);
  }
  return drafts.map((d) => ({
    strips: d.strips,
    a: stripPoint(d.strips[0] as Strip, d.begin),
    b: stripPoint(d.strips[d.strips.length - 1] as Strip, d.end),
    joint: d.joint,
  }));
}

function draftLength(d: Draft): Mm {
  const first = d.strips[0] as Strip;
  const last = d.strips[d.strips.length - 1] as Strip;
  return vectorDot(vectorSub(stripPoint(last, d.end), stripPoint(first, d.begin)), first.dir);
}

/** Whether strip b carries on the straight surface of `run`, whose last strip it follows. */
function inLine(run: readonly Strip[], b: Strip, joint: Joint): boolean {
  const lead = run[0] as Strip;
  const a = run[run.length - 1] as Strip;
  if (isCap(a) || isCap(b) || joint.free) return false;
  if (a.frame === b.frame && a.part === b.part) return true;
  if (Math.abs(joint.angle - Math.PI) > IN_LINE_ANGLE) return false;
  if (Math.abs(vectorCross(b.dir, vectorSub(stripPoint(a, a.s1), b.origin))) > SURFACE_TOLERANCE)
    return false;
  // Measured from the first strip too, so that a slow bend does not pass for a straight wall. By angle alone: what is
  // in line must not depend on how the walls are cut into pieces.
  return Math.abs(vectorCross(lead.dir, b.dir)) <= Math.sin(IN_LINE_ANGLE);
}

function joinInLine(loop: Loop): Draft[] {
  const { strips, joints } = loop;
  const n = strips.length;
  const at = (i: number): Strip => strips[i % n] as Strip;
  let start = 0;
  while (start < n && inLine([at(start + n - 1)], at(start), joints[(start + n - 1) % n] as Joint)) start++;
  if (start === n) start = 0;
  const drafts: Draft[] = [];
  let run: Strip[] = [];
  for (let k = 0; k < n; k++) {
    const i = start + k;
    run.push(at(i));
    const joint = joints[i % n] as Joint;
    if (k + 1 < n && inLine(run, at(i + 1), joint)) continue;
    const last = run[run.length - 1] as Strip;
    drafts.push({ strips: run, joint, begin: (run[0] as Strip).s0, end: last.s1 });
    run = [];
  }
  return drafts;
}

/**
 * Ends draft i and begins the next where their surfaces meet. Surfaces in line at different depths make a step at the
 * node; a very slight bend between very different thicknesses too; a very sharp outer corner is cut off. The last two
 * only where both strips end at one node (`atNode`), as elsewhere there is no node to measure from.
 */
function meet(drafts: Draft[], i: number, atNode: boolean): void {
  const d = drafts[i] as Draft;
  const e = drafts[(i + 1) % drafts.length] as Draft;
  const p = d.strips[d.strips.length - 1] as Strip;
  const q = e.strips[0] as Strip;
  d.end = p.s1;
  e.begin = q.s0;
  const bend = d.joint.angle - Math.PI;
  if (Math.abs(bend) <= IN_LINE_ANGLE) return;
  const hit = lineMeeting(p.origin, p.dir, q.origin, q.dir, PARALLEL);
  if (!hit) return;
  const past = hit.s - p.s1;
  const before = q.s0 - hit.t;
  if (atNode && !d.joint.free) {
    const limit = MITRE_LIMIT * Math.max(p.frame.half, q.frame.half);
    if (Math.abs(bend) < QUARTER && Math.max(Math.abs(past), Math.abs(before)) > limit) return;
    if (d.joint.angle > 1.5 * Math.PI && Math.max(past, before) > limit) {
      d.end = p.s1 + Math.min(past, limit);
      e.begin = q.s0 - Math.min(before, limit);
      return;
    }
  }
  d.end = hit.s;
  e.begin = hit.t;
}
