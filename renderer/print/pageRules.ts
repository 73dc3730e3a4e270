import { useLayoutEffect } from 'react';
import type { PaperSize } from './paperSize.ts';

/** What stands at the edge of every page. */
export interface PageEdges {
  size: PaperSize;
  /** At the top, to the left: which certificate it is. */
  head: string;
  /** At the top, to the right, in a frame: what nobody must overlook, one thing to a line. */
  marks: readonly string[];
  /** SHA-256 (hex) of the file. */
  sha256: string;
}

const FACE = '"Atkinson Hyperlegible Next", system-ui, sans-serif';
const FACE_MACHINE = '"Atkinson Hyperlegible Mono", ui-monospace, monospace';

/** Room for the first line of marks, and for each further one. */
const TOP_MILLIMETRES = 19;
const MARK_MILLIMETRES = 4;

/**
 * The rules of a page as a style sheet: its size, and in its margins what every page says, with its number (CSS Paged Media 3, 5,
 * margin boxes). Variables of the style sheets do not reach there.
 */
export function pageRules({ size, head, marks, sha256 }: PageEdges): string {
  const top = TOP_MILLIMETRES + MARK_MILLIMETRES * Math.max(0, marks.length - 1);
  const framed = `
  @top-right {
    content: ${marks.map(cssString).join(' "\\A " ') || 'none'};
    white-space: pre;
    text-align: center;
    vertical-align: middle;
    margin-block: 6mm;
    padding: 0 3mm;
    border: 2px solid #000;
    font: 700 9pt/1.3 ${FACE};
    color: #000;
  }`;
  return `@page {
  size: ${size};
  margin: ${top}mm 14mm 17mm;
  @top-left {
    content: ${cssString(head)};
    text-align: left;
    vertical-align: middle;
    margin-block: 6mm;
    padding-right: 4mm;
    font: 400 8pt/1.3 ${FACE};
    color: #000;
  }${marks.length === 0 ? '' : framed}
  @bottom-left {
    content: ${cssString(`SHA-256 of the file  ${sha256}`)};
    white-space: pre;
    text-align: left;
    vertical-align: middle;
    font: 400 6.5pt/1.3 ${FACE_MACHINE};
    color: #000;
  }
  @bottom-right {
    content: "page " counter(page) " of " counter(pages);
    white-space: pre;
    text-align: right;
    vertical-align: middle;
    font: 400 8pt/1.3 ${FACE};
    color: #000;
  }
}`;
}

/** A text as a string of CSS (CSS Syntax 3, 4.3.5): whatever could end it is written by its number. */
function cssString(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: line ends and their like are what is looked for
  return `"${text.replace(/["\\\u0000-\u001f\u007f]/g, (character) => `\\${character.charCodeAt(0).toString(16)} `)}"`;
}

/** Whether this browser writes into the margins of pages. */
export function canNumberPages(): boolean {
  return 'CSSMarginRule' in window;
}

/** Gives the page these rules when it is printed, as long as the screen that calls this is shown. */
export function usePageRules(edges: PageEdges | null): void {
  const rules = edges && pageRules(edges);
  useLayoutEffect(() => {
    if (rules === null) return;
    // Made by script and not as an element, which the policy of the page forbids.
    const sheet = new CSSStyleSheet();
    sheet.replaceSync(rules);
    document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];
    return () => {
      document.adoptedStyleSheets = document.adoptedStyleSheets.filter((one) => one !== sheet);
    };
  }, [rules]);
}
