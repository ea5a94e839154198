import { useEffect, useRef, type ReactNode } from 'react';
import type { PdfTile } from '../../io/pdf/types.ts';
import type { PdfClient } from '../../workers/pdfClient.ts';

/** A page, or part of it, as a picture; empty until it is drawn. */
export function TileCanvas(props: {
  readonly client: PdfClient;
  readonly tile: PdfTile;
  /** Its name; left out where something else names it. */
  readonly label?: string;
}): ReactNode {
  const { client, tile, label } = props;
  const canvas = useRef<HTMLCanvasElement>(null);
  const asked = JSON.stringify(tile);
  useEffect(() => {
    let wanted = true;
    client.tile(JSON.parse(asked) as PdfTile).then(
      (bitmap) => {
        const element = canvas.current;
        if (wanted && element) {
          element.width = bitmap.width;
          element.height = bitmap.height;
          element.getContext('2d')?.drawImage(bitmap, 0, 0);
          element.dataset['drawn'] = 'true';
        }
        bitmap.close();
      },
      () => undefined,
    );
    return () => {
      wanted = false;
    };
  }, [client, asked]);
  return (
    <canvas
      ref={canvas}
      className="tile"
      width={Math.max(1, Math.round(tile.width * tile.scale))}
      height={Math.max(1, Math.round(tile.height * tile.scale))}
      {...(label === undefined ? { 'aria-hidden': true } : { role: 'img', 'aria-label': label })}
    />
  );
}
