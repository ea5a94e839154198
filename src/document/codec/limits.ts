/** The largest text of a plan that is read, bytes. */
export const LARGEST_FILE = 50 * 1024 * 1024;
