import { resolve } from 'node:path';
import react from '@vitejs/plugin-react';
import { defineConfig } from 'electron-vite';
import about from './package.json' with { type: 'json' };

/** Packages that stay outside main's bundle: those with native parts, and those a bundle breaks. */
const OUTSIDE = ['better-sqlite3', 'serialport', '@serialport/parser-readline', 'ws', 'open'];

const at = (path: string): string => resolve(import.meta.dirname, path);

/** Builds the programs, main's thread for long work, the preload script and the screen into dist/. */
export default defineConfig({
  main: {
    build: {
      outDir: at('dist/main'),
      emptyOutDir: true,
      // One file is read quicker than the hundreds that packages are made of.
      externalizeDeps: { exclude: Object.keys(about.dependencies).filter((name) => !OUTSIDE.includes(name)) },
      rolldownOptions: {
        input: {
          desktop: at('main/desktop/desktop.ts'),
          command: at('main/command/command.ts'),
          thread: at('main/aside/thread.ts'),
        },
        // All in one folder: what finds its neighbours by import.meta.dirname must find them from any chunk.
        output: { entryFileNames: '[name].js', chunkFileNames: '[name]-[hash].js' },
      },
    },
  },
  preload: {
    build: {
      outDir: at('dist/preload'),
      emptyOutDir: true,
      // A sandboxed preload script can require nothing but Electron: one CommonJS file.
      externalizeDeps: false,
      rolldownOptions: {
        input: { preload: at('main/desktop/preload.ts') },
        output: { format: 'cjs', entryFileNames: '[name].cjs' },
      },
    },
  },
  renderer: {
    root: at('renderer'),
    plugins: [react()],
    // Of the other chunks licence texts are taken out by themselves; the packages have them.
    worker: { rolldownOptions: { output: { legalComments: 'none' } } },
    build: {
      outDir: at('dist/renderer'),
      emptyOutDir: true,
      // electron-vite does not minify by itself.
      minify: true,
      // The policy allows no font or script from a data: address.
      assetsInlineLimit: 0,
      rolldownOptions: { input: at('renderer/index.html') },
    },
  },
});
