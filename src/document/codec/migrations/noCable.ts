import type { Plain } from './plain.ts';
import { eachRecord } from './plain.ts';

/** Things of the kind `keep-out` become `no-cable`, and so does the rule that acceptances name. */
export function noCable(file: Plain): Plain {
  const things = eachRecord(file, 'things', (thing) =>
    thing['kind'] === 'keep-out' ? { ...thing, kind: 'no-cable' } : thing,
  );
  return eachRecord(things, 'acceptances', (acceptance) => {
    const { finding } = acceptance;
    return typeof finding === 'string'
      ? { ...acceptance, finding: finding.replace(/^run-through-keep-out:/, 'run-through-no-cable:') }
      : acceptance;
  });
}
