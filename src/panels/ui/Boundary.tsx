import { Component, type ReactNode } from 'react';
import { say } from '../../app/program.ts';
import { useProgram } from './hooks.ts';

interface Props {
  /** What stopped, as the person knows it: "Findings". */
  readonly name: string;
  /** When this changes, what stopped is tried again by itself. */
  readonly again?: unknown;
  readonly children: ReactNode;
}

interface State {
  readonly error: { readonly why: string } | null;
}

/**
 * Holds a fault within the part of the page it happened in: the rest goes on working, and the part says that it has
 * stopped, that the plan is kept, and offers a copy and another try.
 */
export class Boundary extends Component<Props, State> {
  override state: State = { error: null };

  static getDerivedStateFromError(thrown: unknown): State {
    return { error: { why: thrown instanceof Error ? thrown.message : String(thrown) } };
  }

  override componentDidUpdate(before: Props): void {
    if (this.state.error !== null && before.again !== this.props.again) this.setState({ error: null });
  }

  override render(): ReactNode {
    const { error } = this.state;
    if (error === null) return this.props.children;
    return <Stopped name={this.props.name} why={error.why} onAgain={() => this.setState({ error: null })} />;
  }
}

function Stopped(props: {
  readonly name: string;
  readonly why: string;
  readonly onAgain: () => void;
}): ReactNode {
  const program = useProgram();
  const save = (): void => {
    program.files.saveCopy().then(
      (problem) => {
        if (problem !== null) say(program, problem, 'bad');
      },
      (error: unknown) => say(program, `No copy was saved: ${String(error)}`, 'bad'),
    );
  };
  return (
    <div className="halted" role="alert">
      <h2>{props.name}: this stopped; your plan is kept</h2>
      <p className="quiet">Why: {props.why}</p>
      <div className="row">
        <button className="button" type="button" onClick={props.onAgain}>
          Try again
        </button>
        <button className="button" type="button" onClick={save}>
          Save a copy of the plan
        </button>
        <button className="button" type="button" onClick={() => location.reload()}>
          Load the page again
        </button>
      </div>
    </div>
  );
}
