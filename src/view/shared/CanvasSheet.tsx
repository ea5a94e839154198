import { useEffect, useRef, useState, type ReactNode } from 'react';
import type { Stage as KonvaStage } from 'konva/lib/Stage.js';
import { Layer, Shape, Stage } from 'react-konva/es/ReactKonvaCore.js';
import { LAYERS, createBrush, createStage, type CanvasStage } from './stage.ts';

/**
 * Mounts the four layers of a sheet, one painting shape each, and hands the stage on once it stands. React draws this
 * once: what is on the sheet, where it looks and where the pointer is are no part of any component's state.
 */
export function CanvasSheet(props: {
  /** Puts the stage to work; what it gives back ends that work. Must stay the same function. */
  readonly onStage: (stage: CanvasStage, canvas: HTMLDivElement) => () => void;
}): ReactNode {
  const { onStage } = props;
  const container = useRef<HTMLDivElement>(null);
  const konva = useRef<KonvaStage>(null);
  const [brush] = useState(createBrush);
  useEffect(() => {
    if (!container.current || !konva.current) return;
    const stage = createStage(container.current, konva.current, brush);
    const leave = onStage(stage, container.current);
    return () => {
      leave();
      stage.dispose();
    };
  }, [brush, onStage]);
  return (
    <div className="zw-canvas" ref={container}>
      <Stage ref={konva} width={0} height={0} listening={false}>
        {LAYERS.map((name) => (
          <Layer key={name} listening={false}>
            <Shape listening={false} perfectDrawEnabled={false} sceneFunc={brush.scenes[name]} />
          </Layer>
        ))}
      </Stage>
    </div>
  );
}
