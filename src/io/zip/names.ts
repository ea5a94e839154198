/**
 * Why a part may not have this name, or null: every name is a plain path below the file itself, whatever else is asked of it.
 */
export function nameProblem(name: string): string | null {
  if (name === '') return 'a part of the zip file has no name';
  if (name.startsWith('/') || name.startsWith('\\') || /^[a-z]:/i.test(name))
    return 'its name begins at the top of a disk';
  const steps = name.replace(/\/$/, '').split('/');
  if (steps.includes('..')) return 'its name leads out of the zip file';
  if (steps.includes('.') || steps.includes('') || !/^[\x20-\x7e]+$/.test(name) || name.includes('\\'))
    return 'its name has a step or a letter that the name of a part may not have';
  return null;
}
