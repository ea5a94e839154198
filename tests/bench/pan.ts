import { spawn } from 'node:child_process';
import { existsSync, mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { chromium, type CDPSession, type Page } from '@playwright/test';
import { encodeDocument } from '../../src/document/codec/file.ts';
import { generateLarge } from '../samples/generate.ts';
import { median, type Row } from './rows.ts';

const PORT = 4691;
const BROWSER = process.env['ZONEWRIGHT_CHROMIUM'] ?? '/usr/bin/chromium';
const ARGS = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];
const FRAMES = 40;

/**
 * Notes every call and setting of the 2-D contexts of canvases in the page while switched on, and what paths are made
 * of, so that the very strokes of a frame can be drawn again on a bare canvas. Runs in the page.
 */
function recorder(): void {
  const state = { on: false, ops: [] as [string, unknown[]][] };
  Object.assign(globalThis, { benchRecorder: state });
  const made = new WeakMap<object, [string, unknown[]][]>();
  const plain = (value: unknown): unknown => {
    if (value instanceof Path2D) return { path: made.get(value) ?? [] };
    if (value instanceof DOMMatrix) return { matrix: [value.a, value.b, value.c, value.d, value.e, value.f] };
    return value;
  };
  type Wrapped = (this: object, name: string, args: unknown[]) => void;
  const wrap = (proto: Record<string, unknown>, note: Wrapped): void => {
    for (const name of Object.getOwnPropertyNames(proto)) {
      const descriptor = Object.getOwnPropertyDescriptor(proto, name);
      if (descriptor === undefined || name === 'constructor' || name === 'canvas') continue;
      if (typeof descriptor.value === 'function') {
        const original = descriptor.value as (...args: unknown[]) => unknown;
        Object.defineProperty(proto, name, {
          ...descriptor,
          value(this: object, ...args: unknown[]) {
            note.call(this, name, args);
            return original.apply(this, args);
          },
        });
      } else if (descriptor.set !== undefined) {
        const set = descriptor.set;
        Object.defineProperty(proto, name, {
          ...descriptor,
          set(this: object, value: unknown) {
            note.call(this, `=${name}`, [value]);
            set.call(this, value);
          },
        });
      }
    }
  };
  wrap(CanvasRenderingContext2D.prototype as unknown as Record<string, unknown>, (name, args) => {
    if (state.on) state.ops.push([name, args.map(plain)]);
  });
  wrap(Path2D.prototype as unknown as Record<string, unknown>, function (name, args) {
    const ops = made.get(this) ?? [];
    made.set(this, ops);
    ops.push([name, args.map(plain)]);
  });
  globalThis.Path2D = new Proxy(Path2D, {
    construct(target, args: [string | Path2D | undefined]) {
      const path = new target(...args);
      made.set(path, args[0] === undefined ? [] : [['addPath', [plain(args[0])]]]);
      if (typeof args[0] === 'string') made.set(path, [['text', [args[0]]]]);
      return path;
    },
  });
}

async function taskTime(cdp: CDPSession): Promise<number> {
  const { metrics } = await cdp.send('Performance.getMetrics');
  return (metrics.find((m) => m.name === 'TaskDuration')?.value ?? 0) * 1000;
}

async function opened(page: Page, file: string): Promise<CDPSession> {
  await page.goto(`http://localhost:${PORT}/`);
  await page.locator('input[type=file][accept*="json"]').first().setInputFiles(file);
  await page.waitForFunction(() =>
    [...document.querySelectorAll('input')].some((input) => input.value === 'Large plan'),
  );
  await page.waitForTimeout(6000);
  const cdp = await page.context().newCDPSession(page);
  await cdp.send('Performance.enable');
  return cdp;
}

/** Pans the plan with the middle button, a step a frame; gives main-thread milliseconds per frame. */
async function panFrames(page: Page, cdp: CDPSession): Promise<number> {
  const box = await page.locator('canvas').first().boundingBox();
  if (box === null) throw new Error('the plan has no canvas');
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  await page.mouse.move(x, y);
  await page.mouse.down({ button: 'middle' });
  await page.mouse.move(x + 8, y + 8, { steps: 4 });
  const start = await taskTime(cdp);
  for (let i = 0; i < FRAMES; i += 1) {
    await page.mouse.move(x + 8 + (i % 10) * 3, y + 8 + (i % 7) * 3);
    await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => done(null))));
  }
  const end = await taskTime(cdp);
  await page.mouse.up({ button: 'middle' });
  return (end - start) / FRAMES;
}

type Op = readonly [string, readonly unknown[]];

/** Draws the recorded strokes on one bare canvas, moved a little each frame; milliseconds per frame. */
async function bareFrames(page: Page, cdp: CDPSession, ops: readonly Op[]): Promise<number> {
  await page.evaluate((list) => {
    const canvas = document.createElement('canvas');
    canvas.width = innerWidth;
    canvas.height = innerHeight;
    canvas.style.cssText = 'position:fixed;inset:0';
    document.body.replaceChildren(canvas);
    const draw = canvas.getContext('2d') as CanvasRenderingContext2D;
    const context = draw as unknown as Record<string, unknown>;
    type Path = { path: [string, unknown[]][] };
    const real = (value: unknown): unknown => {
      if (typeof value !== 'object' || value === null) return value;
      if ('matrix' in value) return new DOMMatrix(value.matrix as number[]);
      if (!('path' in value)) return value;
      const steps = (value as Path).path;
      const path = steps[0]?.[0] === 'text' ? new Path2D(steps[0][1][0] as string) : new Path2D();
      for (const [name, args] of steps) {
        if (name !== 'text')
          (path as unknown as Record<string, (...a: unknown[]) => void>)[name]?.(...args.map(real));
      }
      return path;
    };
    // Bound once, paths and all, so that a frame is nothing but the calls themselves.
    const calls = list.map(([name, args]) => {
      if (name.startsWith('=')) {
        const key = name.slice(1);
        return () => {
          context[key] = args[0];
        };
      }
      const call = context[name] as (...a: unknown[]) => unknown;
      const given = args.map(real);
      return () => call.apply(draw, given);
    });
    Object.assign(globalThis, {
      bareFrame: (i: number) => {
        draw.reset();
        draw.translate((i % 10) * 3, (i % 7) * 3);
        for (const call of calls) call();
      },
    });
  }, ops as Op[]);
  const start = await taskTime(cdp);
  for (let i = 0; i < FRAMES; i += 1) {
    await page.evaluate(
      (frame) =>
        new Promise((done) =>
          requestAnimationFrame(() => {
            done(null);
            (globalThis as unknown as { bareFrame: (i: number) => void }).bareFrame(frame);
          }),
        ),
      i,
    );
  }
  return ((await taskTime(cdp)) - start) / FRAMES;
}

/** The strokes of one pan frame of the app. */
async function recordFrame(page: Page): Promise<Op[]> {
  const box = await page.locator('canvas').first().boundingBox();
  if (box === null) throw new Error('the plan has no canvas');
  await page.mouse.move(box.x + 200, box.y + 200);
  await page.mouse.down({ button: 'middle' });
  await page.mouse.move(box.x + 210, box.y + 210, { steps: 3 });
  await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
  const ops = await page.evaluate(async () => {
    const state = (globalThis as never as { benchRecorder: { on: boolean; ops: unknown[] } }).benchRecorder;
    state.ops = [];
    state.on = true;
    return null;
  });
  if (ops !== null) throw new Error('recording did not start');
  await page.mouse.move(box.x + 216, box.y + 216);
  await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
  await page.mouse.up({ button: 'middle' });
  return page.evaluate(() => {
    const state = (globalThis as never as { benchRecorder: { on: boolean; ops: [string, unknown[]][] } })
      .benchRecorder;
    state.on = false;
    const skip = new Set([
      'setTransform',
      'resetTransform',
      'clearRect',
      'measureText',
      'drawImage',
      'getTransform',
    ]);
    return state.ops.filter(([name, args]) => !skip.has(name) && args.every((a) => typeof a !== 'function'));
  });
}

/** Main-thread time of a pan frame with some 5,000 legs on screen, against the same strokes on a bare canvas. */
export async function panBench(): Promise<Row[]> {
  const server = spawn(
    'npx',
    [
      'vite',
      'preview',
      '--outDir',
      process.env['ZONEWRIGHT_DIST'] ?? 'dist',
      '--port',
      String(PORT),
      '--strictPort',
    ],
    {
      stdio: 'ignore',
    },
  );
  const file = path.join(mkdtempSync(path.join(tmpdir(), 'zw-')), 'large.json');
  const doc = generateLarge(2, 300, 800);
  writeFileSync(file, encodeDocument({ ...doc, job: { ...doc.job, title: 'Large plan' } }));
  const browser = await chromium.launch({
    ...(existsSync(BROWSER) ? { executablePath: BROWSER } : {}),
    args: ARGS,
  });
  try {
    await new Promise((done) => setTimeout(done, 2000));
    const newPage = async (): Promise<Page> => {
      const made = await browser.newPage({ viewport: { width: 1440, height: 900 } });
      // The runner of this file names functions through a helper of its own, which a page does not have.
      await made.addInitScript('globalThis.__name = (f) => f');
      return made;
    };
    const watched = await newPage();
    await watched.addInitScript(recorder);
    await opened(watched, file);
    const ops = await recordFrame(watched);
    await watched.close();
    const page = await newPage();
    const cdp = await opened(page, file);
    const app: number[] = [];
    for (let round = 0; round < 6; round += 1) app.push(await panFrames(page, cdp));
    const bareUrl = `http://localhost:${PORT}/bare.html`;
    await page.route(bareUrl, (route) =>
      route.fulfill({ contentType: 'text/html', body: '<!doctype html><title>Bare canvas</title><p>.' }),
    );
    await page.goto(bareUrl);
    const bare: number[] = [];
    for (let round = 0; round < 6; round += 1) bare.push(await bareFrames(page, cdp, ops));
    const flat = (list: readonly Op[]): Op[] =>
      list.flatMap((op) => [
        op,
        ...op[1].flatMap((a) =>
          typeof a === 'object' && a !== null && 'path' in a ? flat((a as { path: Op[] }).path) : [],
        ),
      ]);
    const every = flat(ops);
    const count = (name: string): number => every.filter(([op]) => op === name).length;
    return [
      {
        what: 'pan frame with 5,000 legs on screen, against the same strokes on a bare canvas',
        ratio: median(app.slice(1)) / median(bare.slice(1)),
        atMost: 5,
        detail: `main thread ${median(app.slice(1)).toFixed(2)} ms against ${median(bare.slice(1)).toFixed(2)} ms a frame; ${count('lineTo')} line segments in ${count('stroke')} strokes (${ops.length} canvas calls)`,
      },
    ];
  } finally {
    await browser.close();
    server.kill();
  }
}
