import type { SubjectKind } from '../checks/rule.ts';
import type { Id } from '../model/document.ts';

/**
 * Hears which part of a plan is about to be worked on, so that whoever waits can be told how far it is, and where it
 * stopped. Faces are named by their id; a part may be named more than once.
 */
export type Tell = (kind: SubjectKind, id: Id) => void;
