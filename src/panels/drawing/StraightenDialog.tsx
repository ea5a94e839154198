import { useState, type ReactNode } from 'react';
import { straightenPhotograph } from '../../document/commands/straighten.ts';
import {
  fitStraighten,
  JUDGED_LENGTH,
  straightenBy,
  straightenError,
  type PictureSource,
} from '../../engine/geometry/straightened.ts';
import type { Straighten, StoreyTracing } from '../../engine/model/tracing.ts';
import { perform } from '../../app/program.ts';
import { Dialog } from '../ui/Dialog.tsx';
import { Choice, SelectField } from '../ui/fields.tsx';
import { LengthField, showLength } from '../ui/lengths.tsx';
import { useProgram } from '../ui/hooks.ts';
import { usePrefs } from '../ui/usePrefs.ts';
import { CornersOnPicture } from './CornersOnPicture.tsx';
import { SHEETS, sheetNamed, turnedLike, type SheetName } from './sheets.ts';
import { useCorners } from './useCorners.ts';

/** Straightens a photograph by four corners: of the sheet of paper, or of something on the drawing that is rectangular. */
export function StraightenDialog(props: {
  readonly tracing: StoreyTracing;
  readonly source: PictureSource;
  readonly onClose: () => void;
}): ReactNode {
  const program = useProgram();
  const { units } = usePrefs();
  const { tracing, source, onClose } = props;
  const before = source.straighten;
  const photo = program.assets.picture(source.asset);
  const picture = before
    ? { width: before.pictureWidth, height: before.pictureHeight }
    : { width: source.width, height: source.height };
  const [by, setBy] = useState<Straighten['by']>(before?.by ?? 'sheet');
  const typed = before ? { width: sizeAcross(before), height: sizeDown(before) } : null;
  const [sheet, setSheet] = useState<SheetName>(typed ? sheetNamed(typed) : 'A3');
  const [size, setSize] = useState(typed ?? { width: 4000, height: 3000 });
  const corners = useCorners(source, picture, photo);
  const paper = SHEETS.find((each) => each.value === sheet)?.size;
  const asked = by === 'sheet' && paper ? turnedLike(paper, corners.spots) : size;
  const straighten = straightenBy(by, corners.spots, asked, picture, corners.markSd);
  const fit = fitStraighten(straighten);
  const done = (next: Straighten | null): void => {
    if (perform(program, straightenPhotograph(tracing.id, next)).ok) onClose();
  };
  return (
    <Dialog title="Straighten a photograph" onClose={onClose} wide>
      <Choice
        label="The four corners are those of"
        value={by}
        options={[
          { value: 'sheet', text: 'The sheet of paper' },
          { value: 'lengths', text: 'A rectangle on the drawing' },
        ]}
        onCommit={setBy}
      />
      <p className="help" role="status">
        {corners.said}
      </p>
      <CornersOnPicture
        photo={photo}
        picture={picture}
        spots={corners.spots}
        onMove={(i, to, fine) => corners.move(i, to, fine)}
      />
      {by === 'sheet' && (
        <SelectField label="Size of the paper" value={sheet} options={SHEETS} onCommit={setSheet} />
      )}
      {(by === 'lengths' || !paper) && (
        <>
          <LengthField
            label={by === 'sheet' ? 'Paper across the top' : 'Real length across the top'}
            value={size.width}
            min={10}
            onCommit={(width) => setSize({ ...size, width })}
          />
          <LengthField
            label={by === 'sheet' ? 'Paper down the side' : 'Real length down the side'}
            value={size.height}
            min={10}
            onCommit={(height) => setSize({ ...size, height })}
          />
        </>
      )}
      {!fit.ok && <p className="help bad">{fit.reason}</p>}
      {fit.ok && (
        <p className="help">
          {by === 'sheet'
            ? `On the paper a length is true to ± ${straightenError(straighten, JUDGED_LENGTH / Math.min(asked.width, asked.height)).toFixed(1)} mm in each metre. The scale comes from a known length, marked next.`
            : `A wall of ${showLength(JUDGED_LENGTH, units)} is true to ± ${((straightenError(straighten, 1) * JUDGED_LENGTH) / 1000).toFixed(0)} mm. Both lengths count as known.`}{' '}
          Four corners leave nothing over to check by: measure one more length afterwards.
        </p>
      )}
      <div className="row">
        <button
          type="button"
          className="button primary"
          disabled={!fit.ok || !photo}
          onClick={() => done(straighten)}
        >
          Straighten
        </button>
        {before && (
          <button type="button" className="button" onClick={() => done(null)}>
            Show it as it was taken
          </button>
        )}
      </div>
    </Dialog>
  );
}

const sizeAcross = (s: Straighten): number => s.marks[1]?.x ?? s.width;
const sizeDown = (s: Straighten): number => s.marks[2]?.y ?? s.height;
