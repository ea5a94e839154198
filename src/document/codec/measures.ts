import { isDate } from '../dates.ts';
import { above0, numberIn, oneOf, textLike } from './readers.ts';

export const FAR = 1e7;
/** A coordinate, mm: within 10 km of the origin. */
export const coordinate = numberIn(-FAR, FAR, 'mm');
export const length = numberIn(0, FAR, 'mm, 0 or more');
export const someLength = above0(FAR, 'mm, more than 0');
export const amount = numberIn(0, FAR);
export const angle = numberIn(-1000, 1000, 'radians');
export const date = textLike(/^\d{4}-\d{2}-\d{2}$/, 'a date written YYYY-MM-DD', isDate);
export const label = textLike(/^\S(.{0,38}\S)?$/, 'a label of 1 to 40 characters');
export const side = oneOf('left', 'right');
