/** Files made on the page and kept by the browser. */

/** Hands content over as a file. */
export function download(name: string, kind: string, content: BlobPart): void {
  const address = URL.createObjectURL(new Blob([content], { type: kind }));
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 0);
}

const KEPT = [
  'fill',
  'fill-opacity',
  'stroke',
  'stroke-width',
  'stroke-dasharray',
  'font-family',
  'font-size',
  'font-weight',
  'text-anchor',
  'paint-order',
  'stroke-linejoin',
] as const;

/** A drawing as it looks on the page, as a file of its own. */
export function standalone(drawing: SVGSVGElement, paper: string): string {
  const copy = drawing.cloneNode(true);
  if (!(copy instanceof SVGSVGElement)) return '';
  const [from, to] = [drawing, copy].map((svg) => [...svg.querySelectorAll<SVGElement>('*')]);
  for (const [i, element] of (from ?? []).entries()) {
    const style = getComputedStyle(element);
    const own = to?.[i];
    for (const name of KEPT) own?.setAttribute(name, style.getPropertyValue(name));
    own?.removeAttribute('class');
  }
  for (const passing of copy.querySelectorAll('[data-passing]')) passing.remove();
  copy.setAttribute('xmlns', 'http://www.w3.org/2000/svg');
  copy.setAttribute('style', `background: ${paper}`);
  return `${new XMLSerializer().serializeToString(copy)}\n`;
}
