import { useRef, useState, useSyncExternalStore, type ReactNode } from 'react';
import { download } from '../../app/download.ts';
import { Menu, MenuItem } from '../ui/Menu.tsx';
import { say } from '../../app/program.ts';
import { useProgram, useStore } from '../ui/hooks.ts';
import { setPrefs } from '../../app/prefs.ts';
import { usePrefs } from '../ui/usePrefs.ts';
import { KEYS } from '../ui/keys.ts';
import { editJob } from '../../document/commands/job.ts';

/** The title block: what is open, whether it is kept, what can be taken back. */
export function TitleBar(props: {
  readonly onHelp: () => void;
  readonly onJob: () => void;
  readonly onPlans: () => void;
}): ReactNode {
  const program = useProgram();
  const title = useStore((state) => state.doc.job.title);
  const canUndo = useStore((state) => state.canUndo);
  const canRedo = useStore((state) => state.canRedo);
  return (
    <header className="titleblock">
      <h1 className="mark">
        <img src="./icon.svg" alt="" width="22" height="22" />
        <span>Zonewright</span>
      </h1>
      <FileMenu onJob={props.onJob} onPlans={props.onPlans} />
      <label className="jobtitle">
        <span className="unseen">Title of the plan</span>
        <TitleEntry key={title} title={title} />
      </label>
      <SavedState />
      <div className="cell buttons">
        <button
          className="title-button"
          type="button"
          disabled={canUndo === null}
          onClick={() => program.store.undo()}
          title={canUndo === null ? 'Nothing to undo' : `Undo: ${canUndo} (${KEYS.undo})`}
        >
          <Icon name="undo" />
          <span className="unseen">Undo{canUndo === null ? '' : `: ${canUndo}`}</span>
        </button>
        <button
          className="title-button"
          type="button"
          disabled={canRedo === null}
          onClick={() => program.store.redo()}
          title={canRedo === null ? 'Nothing to redo' : `Redo: ${canRedo} (${KEYS.redo})`}
        >
          <Icon name="redo" />
          <span className="unseen">Redo{canRedo === null ? '' : `: ${canRedo}`}</span>
        </button>
      </div>
      <LookMenu />
      <button
        type="button"
        className="cell title-button"
        onClick={props.onHelp}
        title="Help and shortcuts (?)"
      >
        <b aria-hidden="true">?</b>
        <span className="unseen">Help and shortcuts</span>
      </button>
    </header>
  );
}

function TitleEntry(props: { readonly title: string }): ReactNode {
  const program = useProgram();
  const [text, setText] = useState(props.title);
  const commit = (): void => {
    const wanted = text.trim();
    if (wanted === '' || wanted === props.title) setText(props.title);
    else program.store.dispatch(editJob({ title: wanted }));
  };
  return (
    <input
      value={text}
      maxLength={120}
      spellCheck={false}
      autoComplete="off"
      onChange={(event) => setText(event.target.value)}
      onBlur={commit}
      onKeyDown={(event) => {
        if (event.key === 'Enter') event.currentTarget.blur();
        if (event.key === 'Escape') setText(props.title);
      }}
    />
  );
}

/** New, Open, Save a copy, Samples. */
function FileMenu(props: { readonly onJob: () => void; readonly onPlans: () => void }): ReactNode {
  const program = useProgram();
  const input = useRef<HTMLInputElement>(null);
  const tell = (work: Promise<string | null>): void => {
    void work.then((problem) => {
      if (problem !== null) say(program, problem, 'bad');
    });
  };
  return (
    <>
      <Menu label="File" className="cell title-button">
        {(close) => (
          <>
            <MenuItem onPick={() => (close(), tell(program.files.newPlan()))}>New plan</MenuItem>
            <MenuItem keys={KEYS.open} onPick={() => (close(), input.current?.click())}>
              Open a file…
            </MenuItem>
            <MenuItem keys={KEYS.save} onPick={() => (close(), tell(program.files.saveCopy()))}>
              Save a copy…
            </MenuItem>
            <MenuItem onPick={() => (close(), props.onPlans())}>Plans kept here…</MenuItem>
            <MenuItem onPick={() => (close(), props.onJob())}>Job, supply and edition…</MenuItem>
            <p className="menu-heading" id="samples-heading">
              Samples (invented)
            </p>
            {program.files.samples.map((sample) => (
              <MenuItem
                key={sample.file}
                title={sample.about}
                onPick={() => (close(), tell(program.files.openSample(sample)))}
              >
                {sample.title}
              </MenuItem>
            ))}
          </>
        )}
      </Menu>
      <input
        ref={input}
        id="open-file"
        type="file"
        hidden
        aria-label="Open a plan file"
        accept=".json,.zip,application/json,application/zip"
        onChange={(event) => {
          const file = event.target.files?.[0];
          event.target.value = '';
          if (file) tell(program.files.open(file));
        }}
      />
    </>
  );
}

function SavedState(): ReactNode {
  const { saving } = useProgram();
  const state = useSyncExternalStore(saving.subscribe, saving.get);
  return (
    <div className="cell saved" data-state={state.state} role="status" title={state.text}>
      <span className="dot" aria-hidden="true" />
      <span>
        {
          {
            saved: 'Saved',
            saving: 'Saving…',
            'not-saved': 'Not saved',
            'read-only': 'Looking only',
            none: 'Not kept',
          }[state.state]
        }
      </span>
      {saving.newer !== null ? (
        <button
          className="title-button"
          type="button"
          title={state.text}
          onClick={() => download('newer.plan.json', 'application/json', saving.newer ?? '')}
        >
          Save the kept file
        </button>
      ) : (
        state.state === 'read-only' && (
          <button className="title-button" type="button" onClick={() => saving.takeOver()}>
            Edit here
          </button>
        )
      )}
    </div>
  );
}

/** Theme and units: preferences of this device. */
function LookMenu(): ReactNode {
  const prefs = usePrefs();
  const units = { mm: 'Millimetres', m: 'Metres', ft: 'Feet and inches' } as const;
  const themes = { system: 'As the device', light: 'Light', dark: 'Dark' } as const;
  return (
    <Menu label="View" className="cell title-button" align="end">
      {(close) => (
        <>
          <p className="menu-heading">Lengths shown in</p>
          {(Object.keys(units) as (keyof typeof units)[]).map((each) => (
            <MenuItem
              key={each}
              on={prefs.units === each}
              onPick={() => (close(), setPrefs({ units: each }))}
            >
              {units[each]}
            </MenuItem>
          ))}
          <p className="menu-heading">Paper</p>
          {(Object.keys(themes) as (keyof typeof themes)[]).map((each) => (
            <MenuItem
              key={each}
              on={prefs.theme === each}
              onPick={() => (close(), setPrefs({ theme: each }))}
            >
              {themes[each]}
            </MenuItem>
          ))}
        </>
      )}
    </Menu>
  );
}

/** Small line icons, drawn for this program. */
export function Icon(props: {
  readonly name: 'undo' | 'redo' | 'up' | 'down' | 'bin' | 'plus' | 'eye';
}): ReactNode {
  const paths = {
    undo: 'M3 7h8a4 4 0 0 1 0 8H7M3 7l4-4M3 7l4 4',
    redo: 'M15 7H7a4 4 0 0 0 0 8h4M15 7l-4-4M15 7l-4 4',
    up: 'M4 11l5-5 5 5',
    down: 'M4 7l5 5 5-5',
    bin: 'M4 5h10M7 5V3h4v2M5 5l1 10h6l1-10',
    plus: 'M9 3v12M3 9h12',
    eye: 'M2 9s3-5 7-5 7 5 7 5-3 5-7 5-7-5-7-5zM9 7.5a1.5 1.5 0 1 1 0 3 1.5 1.5 0 0 1 0-3z',
  };
  return (
    <svg className="icon" viewBox="0 0 18 18" width="18" height="18" aria-hidden="true">
      <path d={paths[props.name]} fill="none" stroke="currentColor" strokeWidth="1.6" />
    </svg>
  );
}
