import type { ReactNode } from 'react';
import { useSession } from './hooks.ts';
import { stageInfo } from '../../app/stageInfo.ts';

/** What to do next, while there is nothing of this stage yet. */
export function First(): ReactNode {
  const stage = useSession((state) => state.stage);
  return <p className="first">{stageInfo(stage).first}</p>;
}

/** A caution that belongs where it stands. */
export function Caution(props: { readonly children: ReactNode }): ReactNode {
  return (
    <p className="caution">
      <span aria-hidden="true" className="sign">
        !
      </span>
      <span>{props.children}</span>
    </p>
  );
}
