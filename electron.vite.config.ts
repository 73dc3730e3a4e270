import { resolve } from 'node:path';
import react from '@vitejs/plugin-react';
import { defineConfig } from 'electron-vite';

const at = (path: string): string => resolve(import.meta.dirname, path);

/** Builds the programs, the preload script and the screen into dist/. Packages of `dependencies` stay outside main's bundle. */
export default defineConfig({
  main: {
    build: {
      outDir: at('dist/main'),
      emptyOutDir: true,
      rolldownOptions: {
        input: { desktop: at('main/desktop/desktop.ts'), command: at('main/command/command.ts') },
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
