import { createContext, useContext, useRef, useState } from 'react';
import { Action } from '../controls/action.tsx';
import { type Ground, type Picture, pictureOf, pngOf } from './picture.ts';

/** What the charts of a page are about, like `CR-4K7-1, lot 24-118`: it stands on their pictures and in their files' names. */
export const ChartsAbout = createContext('');

/** A chart as a picture: copied, or saved as a PNG or SVG file. */
export function ChartPicture({ title }: { title: string }) {
  const about = useContext(ChartsAbout);
  const here = useRef<HTMLDetailsElement>(null);
  const [ground, setGround] = useState<Ground>('white');
  const [said, setSaid] = useState('');

  async function make(use: (picture: Picture) => Promise<string>): Promise<void> {
    const chart = here.current?.closest('figure');
    if (!chart) return;
    try {
      setSaid(await use(await pictureOf(chart, about === '' ? [title] : [title, about], ground)));
    } catch {
      setSaid('The picture could not be made here. Save it as an SVG file, or try again.');
    }
  }

  const name = fileName(about === '' ? title : `${about} ${title}`);
  return (
    <details className="chart-picture" ref={here}>
      <summary>As a picture</summary>
      <div className="chart-picture-ways">
        <Action onPress={() => void make(copy)}>Copy</Action>
        <Action onPress={() => void make(async (picture) => save(`${name}.png`, await pngOf(picture)))}>
          Save PNG
        </Action>
        <Action
          onPress={() =>
            void make(async ({ svg }) => save(`${name}.svg`, new Blob([svg], { type: 'image/svg+xml;charset=utf-8' })))
          }
        >
          Save SVG
        </Action>
        <label className="chart-ground">
          <input
            type="checkbox"
            checked={ground === 'white'}
            onChange={(event) => setGround(event.target.checked ? 'white' : 'screen')}
          />
          on white
        </label>
        <p className="small" role="status">
          {said}
        </p>
      </div>
    </details>
  );
}

async function copy(picture: Picture): Promise<string> {
  try {
    await navigator.clipboard.write([new ClipboardItem({ 'image/png': pngOf(picture) })]);
    return 'Copied.';
  } catch {
    return 'This window may not copy pictures. Save the picture as a file instead.';
  }
}

async function save(name: string, file: Blob): Promise<string> {
  const address = URL.createObjectURL(file);
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  // The file is read once the press is over.
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
  return `Saved as ${name}.`;
}

/** A name that every file system takes. */
function fileName(text: string): string {
  const plain = text.replace(/[^\p{L}\p{N}]+/gu, '-').replace(/^-|-$/g, '');
  return plain.slice(0, 80).replace(/-$/, '') || 'chart';
}
