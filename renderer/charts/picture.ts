import face from '@fontsource/atkinson-hyperlegible-next/files/atkinson-hyperlegible-next-latin-400-normal.woff2?url';

/** What a picture stands on: white for paper and reports, or the paper of the screen as it is. */
export type Ground = 'white' | 'screen';

/** A picture of a chart: an SVG file that needs nothing beside it, and its size in pixels. */
export interface Picture {
  svg: string;
  width: number;
  height: number;
}

/** Pixels of a PNG for each pixel of the drawing: sharp in print. */
const PNG_SCALE = 3;
/** Room around the drawing and height of a line of its words, in pixels. */
const MARGIN = 16;
const LINE = 20;
const TITLE_SIZE = 15;

/** What the style sheets say of a drawing, as attributes that stay with it. */
const KEPT_STYLES = [
  'fill',
  'fill-opacity',
  'stroke',
  'stroke-width',
  'stroke-opacity',
  'stroke-dasharray',
  'stroke-linecap',
  'stroke-linejoin',
  'opacity',
  'display',
  'visibility',
  'font-family',
  'font-size',
  'font-weight',
  'text-anchor',
];

/**
 * The chart in this element as a picture of its own: styles and the face of its letters are in it, its title and what it is
 * about stand above it. On white ground the inks are those of the light appearance.
 */
export async function pictureOf(chart: Element, words: readonly string[], ground: Ground): Promise<Picture> {
  const drawing = chart.querySelector('.chart-drawing svg');
  if (!(drawing instanceof SVGSVGElement)) throw new Error('the chart is not drawn yet');
  const { width, height } = drawing.getBoundingClientRect();
  const { copy, ink, paper } = styled(drawing, ground);
  const lines = words.flatMap((text) => wrapped(text, width));
  const above = MARGIN + lines.length * LINE + MARGIN / 2;
  const size = { width: Math.ceil(width) + 2 * MARGIN, height: Math.ceil(height + above) + MARGIN };
  copy.setAttribute('x', String(MARGIN));
  copy.setAttribute('y', String(above));
  copy.setAttribute('width', String(width));
  copy.setAttribute('height', String(height));
  const title = lines
    .map((line, index) => {
      const y = MARGIN + TITLE_SIZE + index * LINE;
      return `<text x="${MARGIN}" y="${y}" font-size="${TITLE_SIZE}" fill="${ink}">${escaped(line)}</text>`;
    })
    .join('');
  const svg = [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${size.width}" height="${size.height}" viewBox="0 0 ${size.width} ${size.height}" font-family="${FACE}, system-ui, sans-serif">`,
    `<title>${escaped(words.join(', '))}</title>`,
    `<style>${await fontRule()}text{font-variant-numeric:tabular-nums}</style>`,
    `<rect width="100%" height="100%" fill="${ground === 'white' ? '#ffffff' : paper}"/>`,
    title,
    new XMLSerializer().serializeToString(copy),
    '</svg>',
  ].join('');
  return { svg, ...size };
}

/** The picture as a PNG file. */
export async function pngOf({ svg, width, height }: Picture): Promise<Blob> {
  const address = URL.createObjectURL(new Blob([svg], { type: 'image/svg+xml' }));
  try {
    const image = new Image(width, height);
    image.src = address;
    await image.decode();
    const canvas = document.createElement('canvas');
    canvas.width = width * PNG_SCALE;
    canvas.height = height * PNG_SCALE;
    const context = canvas.getContext('2d');
    if (!context) throw new Error('no canvas');
    context.scale(PNG_SCALE, PNG_SCALE);
    context.drawImage(image, 0, 0, width, height);
    const png = await new Promise<Blob | null>((done) => canvas.toBlob(done, 'image/png'));
    if (!png) throw new Error('no PNG');
    return png;
  } finally {
    URL.revokeObjectURL(address);
  }
}

const FACE = "'Atkinson Hyperlegible Next'";

/** A copy of the drawing whose styles are its own. */
function styled(drawing: SVGSVGElement, ground: Ground) {
  const page = document.documentElement.dataset;
  const before = page.appearance;
  // Nothing is painted between here and the end of this function.
  if (ground === 'white') page.appearance = 'light';
  try {
    const copy = drawing.cloneNode(true) as SVGSVGElement;
    const originals = [drawing, ...drawing.querySelectorAll('*')];
    const copies = [copy, ...copy.querySelectorAll('*')];
    originals.forEach((original, index) => {
      const computed = getComputedStyle(original);
      const target = copies[index] as Element;
      for (const name of KEPT_STYLES) target.setAttribute(name, computed.getPropertyValue(name));
      target.removeAttribute('class');
      target.removeAttribute('style');
    });
    const { color, backgroundColor } = getComputedStyle(document.body);
    return { copy, ink: color, paper: backgroundColor };
  } finally {
    if (before === undefined) delete page.appearance;
    else page.appearance = before;
  }
}

/** The face of the letters, in the picture itself: it looks the same where nobody has it. */
async function fontRule(): Promise<string> {
  const answer = await fetch(face).catch(() => null);
  if (!answer?.ok) return '';
  const bytes = new Uint8Array(await answer.arrayBuffer());
  const text = Array.from(bytes, (byte) => String.fromCharCode(byte)).join('');
  return `@font-face{font-family:${FACE};src:url(data:font/woff2;base64,${btoa(text)}) format("woff2")}`;
}

/** A text in lines that fit; a letter is about half as wide as it is high. */
function wrapped(text: string, width: number): string[] {
  const most = Math.max(20, Math.floor(width / (0.5 * TITLE_SIZE)));
  const lines: string[] = [];
  for (const word of text.split(' ')) {
    const line = lines.at(-1);
    if (line !== undefined && line.length + 1 + word.length <= most) lines[lines.length - 1] = `${line} ${word}`;
    else lines.push(word);
  }
  return lines;
}

function escaped(text: string): string {
  return text.replace(/&/g, '&amp;').replace(/</g, '&lt;').replace(/>/g, '&gt;').replace(/"/g, '&quot;');
}
