/** `^[a-z0-9][a-z0-9_-]{0,63}$`, and never the word "constructor". */
export type Id = string;

/** A side of a wall as it is drawn, going from its first node to its second. */
export type Side = 'left' | 'right';

/** A date as YYYY-MM-DD. */
export type DateText = string;
