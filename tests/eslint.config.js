import js from '@eslint/js';
import svelte from 'eslint-plugin-svelte';
import { fileURLToPath } from 'node:url';
import globals from 'globals';
import ts from 'typescript-eslint';

export default ts.config(
  { ignores: ['dist/**', 'test-results/**', 'node_modules/**'] },
  js.configs.recommended,
  ...ts.configs.recommendedTypeChecked,
  ...svelte.configs.recommended,
  {
    languageOptions: {
      globals: { ...globals.browser, ...globals.worker, ...globals.node },
      parserOptions: {
        projectService: true,
        tsconfigRootDir: fileURLToPath(new URL('..', import.meta.url)),
        extraFileExtensions: ['.svelte'],
      },
    },
  },
  { files: ['**/*.svelte', '**/*.svelte.ts'], languageOptions: { parserOptions: { parser: ts.parser } } },
  { files: ['**/*.{js,mjs}'], ...ts.configs.disableTypeChecked },
);
