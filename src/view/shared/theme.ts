/** Colours of the canvas, read from the page's custom properties so that light and dark both work. */
export interface Theme {
  readonly ink: string;
  readonly paper: string;
  readonly wall: string;
  readonly muted: string;
  readonly accent: string;
  readonly inside: string;
  readonly outside: string;
  readonly disputed: string;
  readonly unchecked: string;
  readonly select: string;
  readonly guide: string;
  /** Family list for canvas text. */
  readonly font: string;
}

const FALLBACK: Theme = {
  ink: '#1d2327',
  paper: '#fbfaf7',
  wall: '#4a5258',
  muted: '#7a848a',
  accent: '#1f6f8b',
  inside: '#1a7f4b',
  outside: '#c22f2f',
  disputed: '#b06a00',
  unchecked: '#6b6f8f',
  select: '#1663c7',
  guide: '#8a3fb3',
  font: 'system-ui, sans-serif',
};

/** The theme at an element: `--zw-ink` and so on, with a default for each that is not set. */
export function readTheme(element: Element): Theme {
  const style = getComputedStyle(element);
  const read = (name: keyof Theme) => style.getPropertyValue(`--zw-${name}`).trim() || FALLBACK[name];
  return {
    ink: read('ink'),
    paper: read('paper'),
    wall: read('wall'),
    muted: read('muted'),
    accent: read('accent'),
    inside: read('inside'),
    outside: read('outside'),
    disputed: read('disputed'),
    unchecked: read('unchecked'),
    select: read('select'),
    guide: read('guide'),
    font: style.fontFamily || FALLBACK.font,
  };
}

/** Calls back when the page goes from light to dark or its theme attributes change. */
export function watchTheme(onChange: () => void): () => void {
  const dark = matchMedia('(prefers-color-scheme: dark)');
  const contrast = matchMedia('(prefers-contrast: more)');
  dark.addEventListener('change', onChange);
  contrast.addEventListener('change', onChange);
  const observer = new MutationObserver(onChange);
  observer.observe(document.documentElement, {
    attributes: true,
    attributeFilter: ['class', 'data-theme', 'style'],
  });
  return () => {
    dark.removeEventListener('change', onChange);
    contrast.removeEventListener('change', onChange);
    observer.disconnect();
  };
}
