import { useId, useState, type ReactNode } from 'react';

/** Asks for the password of a PDF. It is not kept in the plan. */
export function PasswordForm(props: { readonly onGiven: (password: string) => Promise<boolean> }): ReactNode {
  const id = useId();
  const [password, setPassword] = useState('');
  const [state, setState] = useState<'asked' | 'trying' | 'wrong'>('asked');
  const give = async (): Promise<void> => {
    setState('trying');
    const right = await props.onGiven(password).catch(() => false);
    setState(right ? 'asked' : 'wrong');
  };
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        void give();
      }}
    >
      <p>This PDF asks for its password. The password is not kept in the plan.</p>
      <div className="field">
        <label htmlFor={id}>Password of the PDF</label>
        <span className="entry">
          <input
            id={id}
            type="password"
            autoComplete="off"
            value={password}
            aria-invalid={state === 'wrong'}
            onChange={(event) => setPassword(event.target.value)}
          />
        </span>
        {state === 'wrong' && (
          <p className="help bad" role="alert">
            That password does not open it.
          </p>
        )}
      </div>
      <div className="dialog-foot">
        <button type="submit" className="button primary" disabled={state === 'trying' || password === ''}>
          Open it
        </button>
      </div>
    </form>
  );
}
