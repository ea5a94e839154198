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

/** The colours of an element's own light or dark, as `rgb(…)`: the tokens of the page's style sheet, and no others. */
export function readTheme(element: Element): Theme {
  // A token may be written for light and dark at once; only a property that uses it says which of the two holds here.
  const probe = element.ownerDocument.createElement('i');
  probe.hidden = true;
  element.append(probe);
  const used = getComputedStyle(probe);
  const read = (name: Exclude<keyof Theme, 'font'>): string => {
    probe.style.color = `var(--zw-${name})`;
    return used.color;
  };
  const theme: Theme = {
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
    font: used.fontFamily,
  };
  probe.remove();
  return theme;
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
