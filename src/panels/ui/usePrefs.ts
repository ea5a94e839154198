import { useSyncExternalStore } from 'react';
import { getPrefs, onPrefs, type Prefs } from '../../app/prefs.ts';

/** What this device prefers, as it is now. */
export const usePrefs = (): Prefs => useSyncExternalStore(onPrefs, getPrefs);
