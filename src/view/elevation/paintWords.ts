import { textStyle } from './looks.ts';
import type { FaceMark } from './marks.ts';
import { drawMark, PLATE_HOLDS_PX, platePx } from './paintFace.ts';
import { placeWords, type WordBox, type WordWish } from './placeWords.ts';
import { drawText } from '../shared/paint.ts';
import type { Frame } from '../shared/stage.ts';
import { faceToScreen } from '../../tools/camera.ts';
import type { Mm, ScreenPoint } from '../../engine/model/units.ts';

/** Letters need this many pixels across before they are shown in a band of that width. */
const LETTERS_PX = 10;
const SYMBOL_PX = 20;
const BESIDE_PX = 8;
const SMALL_UNIT = 0.62;
/** Below this many pixels per mm labels leave the height out: there is no room for it. */
const HEIGHTS_FROM = 0.06;

type Of<K extends FaceMark['kind']> = Extract<FaceMark, { kind: K }>;
interface Written extends WordWish {
  readonly draw: (box: WordBox) => void;
}

/** Words that figures drawn later keep clear of. */
const KEPT_CLEAR: ReadonlySet<string> = new Set([
  'caption',
  'out',
  'disputed',
  'dimension',
  'point',
  'length',
]);

/**
 * Paints the words of several faces: those of points with their symbols too; what would overlap gives way by rank.
 * `before` are boxes of words that stand already; the answer is those that later words must keep clear of.
 */
export function paintWords(
  frame: Frame,
  faces: readonly { readonly marks: readonly FaceMark[]; readonly start: Mm }[],
  before: readonly WordBox[] = [],
): readonly WordBox[] {
  const written: Written[] = [];
  for (const { marks, start } of faces) {
    for (const mark of marks) {
      if (mark.kind !== 'text' && mark.kind !== 'symbol') continue;
      const at = faceToScreen(frame.camera, mark.at, start);
      const word = mark.kind === 'text' ? lettering(frame, at, mark) : pointLabel(frame, at, mark);
      if (word) written.push(word);
    }
  }
  const standing: WordBox[] = [];
  placeWords(written, before).forEach((choice, i) => {
    const word = written[i];
    const box = choice === null ? undefined : word?.boxes[choice];
    if (!word || !box) return;
    word.draw(box);
    if (KEPT_CLEAR.has(word.look)) standing.push(box);
  });
  return standing;
}

function lettering(frame: Frame, at: ScreenPoint, mark: Of<'text'>): Written | null {
  const { ctx, theme, camera } = frame;
  if (mark.across > 0 && mark.across * camera.scale < LETTERS_PX) return null;
  const style = textStyle(theme, mark.look);
  ctx.font = `${style.bold ? '600 ' : ''}${style.size}px ${theme.font}`;
  const width = ctx.measureText(mark.text).width;
  if (mark.room > 0 && width > mark.room * camera.scale) return null;
  const back = mark.align === 'left' ? 0 : mark.align === 'right' ? width : width / 2;
  const h = style.size + 2;
  // Where the line of letters begins, measured along it; an upright line runs up the screen.
  const box = (lift: number): WordBox =>
    mark.upright
      ? { x: at.px - lift - h / 2, y: at.py + back - width, width: h, height: width }
      : { x: at.px - back, y: at.py - lift - h / 2, width, height: h };
  return {
    look: mark.look,
    boxes: mark.beside
      ? [
          { x: at.px + BESIDE_PX, y: at.py - h / 2, width, height: h },
          { x: at.px - BESIDE_PX - width, y: at.py - h / 2, width, height: h },
        ]
      : mark.lift === 0
        ? [box(0)]
        : [
            box(mark.lift),
            box(-mark.lift),
            ...(mark.look === 'dimension' ? along(mark, box(mark.lift)) : []),
          ],
    draw: ({ x, y }) => {
      ctx.save();
      ctx.translate(mark.upright ? x + h / 2 : x, mark.upright ? y + width : y + h / 2);
      if (mark.upright) ctx.rotate(-Math.PI / 2);
      drawText(frame, mark.text, { px: 0, py: 0 }, { ...style, align: 'left' });
      ctx.restore();
    },
  };
}

/** A figure may also stand further along its line, either way. */
function along(mark: Of<'text'>, box: WordBox): WordBox[] {
  return [-1, 1, -2, 2].map((steps) =>
    mark.upright
      ? { ...box, y: box.y + steps * (box.height + 4) }
      : { ...box, x: box.x + steps * (box.width + 4) },
  );
}

/** A point's label below, above or beside its plate, with its symbol before it where the plate is too small for one. */
function pointLabel(frame: Frame, at: ScreenPoint, mark: Of<'symbol'>): Written {
  const { ctx, theme, camera } = frame;
  const look = mark.ghost ? 'ghost' : 'point';
  const style = textStyle(theme, look);
  ctx.font = `${style.bold ? '600 ' : ''}${style.size}px ${theme.font}`;
  const symbol = platePx(frame) < PLATE_HOLDS_PX ? SYMBOL_PX : 0;
  const words = camera.scale < HEIGHTS_FROM ? (mark.label.split(' · ')[0] ?? mark.label) : mark.label;
  const width = ctx.measureText(words).width + symbol;
  const height = style.size + 4;
  const half = mark.half * camera.scale + 3;
  const x = at.px - width / 2;
  return {
    look,
    boxes: [
      { x, y: at.py + half, width, height },
      { x, y: at.py - half - height, width, height },
      { x: at.px + half + 6, y: at.py + half, width, height },
      { x: at.px - half - 6 - width, y: at.py + half, width, height },
      { x, y: at.py + half + height, width, height },
    ],
    draw: (box) => {
      const middle = box.y + height / 2;
      drawText(frame, words, { px: box.x + symbol, py: middle }, { ...style, align: 'left' });
      if (symbol > 0) drawMark(frame, { px: box.x + 8, py: middle + 5 }, mark, SMALL_UNIT);
    },
  };
}
