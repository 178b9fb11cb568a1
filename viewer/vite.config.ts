import { build, defineConfig, type InlineConfig, type Plugin } from 'vite';

const OUT = '../api/hullchange_api/web';

const common = {
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  build: { outDir: OUT, target: 'es2022', chunkSizeWarningLimit: 900 },
} satisfies InlineConfig;

/** Its styles are there already. */
const noStyle: Plugin = {
  name: 'no-style',
  generateBundle(_, bundle) {
    for (const name of Object.keys(bundle)) if (name.endsWith('.css')) delete bundle[name];
  },
};

/** The same again as one script without parts to load: for the file that opens from disk. */
const oneFile: Plugin = {
  name: 'one-file',
  apply: 'build',
  async closeBundle() {
    await build({
      ...common,
      configFile: false,
      plugins: [noStyle],
      logLevel: 'warn',
      build: {
        ...common.build,
        emptyOutDir: false,
        copyPublicDir: false,
        chunkSizeWarningLimit: 2000,
        rollupOptions: {
          input: 'src/main.tsx',
          output: { entryFileNames: 'one-file.js', codeSplitting: false },
        },
      },
    });
  },
};

export default defineConfig({
  ...common,
  base: './',
  build: { ...common.build, emptyOutDir: true, license: { fileName: 'licenses.md' } },
  plugins: [oneFile],
  server: { proxy: { '/api': 'http://127.0.0.1:8000' } },
});
