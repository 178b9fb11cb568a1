/** The design's measures as the style sheets of this page have them. */

/** A token, and what it comes to on light and on dark paper. */
export interface LiveToken {
  readonly name: string;
  readonly light: string;
  readonly dark: string;
}

function rulesOf(sheet: CSSStyleSheet): readonly CSSRule[] {
  try {
    return [...sheet.cssRules];
  } catch {
    return []; // a sheet of another origin, such as a browser extension's
  }
}

const allRules = () => [...document.styleSheets].flatMap(rulesOf);

/** Names of the custom properties of `:root`, in the order they are written. */
export function tokenNames(): readonly string[] {
  const named = allRules().flatMap((rule) =>
    rule instanceof CSSStyleRule && rule.selectorText === ':root' ? [...rule.style] : [],
  );
  return [...new Set(named.filter((name) => /^--(?!lightningcss)/.test(name)))];
}

/** Widths at which a style sheet changes [px]. */
export function breakpoints(): readonly number[] {
  const widths = allRules().flatMap((rule) =>
    rule instanceof CSSMediaRule
      ? [...rule.conditionText.matchAll(/([\d.]+)px/g)].map(([, px]) => Number(px))
      : [],
  );
  return [...new Set(widths)].sort((a, b) => a - b);
}

/**
 * What tokens come to, computed by the browser on both papers: colours as colours, else as written.
 * The page is on the other paper for as long as that takes, which is before it is drawn again.
 */
export function liveTokens(names: readonly string[], isColour: boolean): readonly LiveToken[] {
  const probe = document.createElement('span');
  document.body.append(probe);
  const root = document.documentElement;
  const { paper: own } = root.dataset;
  const on = (paper: 'light' | 'dark', name: string) => {
    root.dataset.paper = paper;
    if (!isColour) return getComputedStyle(probe).getPropertyValue(name).trim();
    probe.style.color = `var(${name})`;
    return getComputedStyle(probe).color;
  };
  const read = names.map((name) => ({ name, light: on('light', name), dark: on('dark', name) }));
  if (own === undefined) root.removeAttribute('data-paper');
  else root.dataset.paper = own;
  probe.remove();
  return read;
}
