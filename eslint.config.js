import hooks from 'eslint-plugin-react-hooks';
import tseslint from 'typescript-eslint';

// The arrows of DEVELOPERS.md. Each folder lists the folders of src it may import from; type imports count.
// tests/architecture.test.ts checks the same table against the real import graph.
export const ARROWS = {
  engine: ['engine'],
  document: ['document', 'engine'],
  io: ['io', 'document', 'engine'],
  tools: ['tools', 'document', 'engine'],
  workers: ['workers', 'io', 'document', 'engine'],
  view: ['view', 'tools', 'document', 'engine'],
  app: ['app', 'tools', 'workers', 'io', 'document', 'engine'],
  panels: ['panels', 'app', 'view', 'tools', 'workers', 'io', 'document', 'engine'],
  report: ['report', 'io', 'document', 'engine'],
};
// The order inside the engine: each folder may import itself and what it lists.
const GROUND = ['model', 'memo', 'geometry', 'fabric', 'words'];
const REASONED = [...GROUND, 'zones', 'takeoff', 'electrical', 'checks', 'derive'];
export const ENGINE_ARROWS = {
  model: [],
  memo: ['model'],
  geometry: ['model'],
  fabric: ['model', 'memo', 'geometry'],
  words: ['model', 'geometry', 'fabric'],
  zones: GROUND,
  takeoff: GROUND,
  electrical: [...GROUND, 'zones', 'takeoff'],
  checks: [...GROUND, 'zones', 'takeoff', 'electrical'],
  derive: [...GROUND, 'zones', 'takeoff', 'electrical', 'checks'],
  routing: REASONED,
  circuitReport: REASONED,
  site: [...REASONED, 'circuitReport'],
};
const ENGINE_ROOMS = Object.keys(ENGINE_ARROWS);
// The rooms of src/panels from the bottom up: a room may import from those before it, never from one after.
export const ROOMS = [
  'ui',
  'findings',
  'drawing',
  'fabric',
  'points',
  'circuits',
  'runs',
  'takeoff',
  'site',
  'inspect',
  'shell',
];
const FOLDERS = Object.keys(ARROWS);
const LIBRARIES = {
  engine: ['react*', 'konva*', 'immer', 'rbush', 'node:*'],
  document: ['react*', 'konva*', 'rbush', 'node:*'],
  io: ['react*', 'konva*', 'rbush', 'node:*'],
  tools: ['react*', 'konva*', 'node:*'],
  workers: ['react*', 'konva*', 'node:*'],
  app: ['react*', 'konva*', 'rbush', 'node:*'],
  report: ['react*', 'konva*', 'rbush'],
};

/** What a folder of src may not import, as patterns of the lint rule. */
const barred = (folder) => [
  {
    group: FOLDERS.filter((f) => !ARROWS[folder].includes(f)).map((f) => `**/${f}/**`),
    message: `src/${folder} may not import this: see the arrows in DEVELOPERS.md`,
  },
  ...(LIBRARIES[folder] ? [{ group: LIBRARIES[folder], message: `not in src/${folder}` }] : []),
];

export default tseslint.config(
  { ignores: ['dist/', 'node_modules/', 'test-results/', 'playwright-report/'] },
  ...tseslint.configs.recommended,
  {
    files: ['**/*.{ts,tsx}'],
    plugins: { 'react-hooks': hooks },
    rules: {
      'react-hooks/rules-of-hooks': 'error',
      'react-hooks/exhaustive-deps': 'error',
      '@typescript-eslint/consistent-type-imports': 'error',
      '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_', varsIgnorePattern: '^_' }],
      'no-restricted-exports': ['error', { restrictDefaultExports: { direct: true } }],
    },
  },
  ...FOLDERS.map((folder) => ({
    files: [`src/${folder}/**/*.{ts,tsx}`],
    rules: {
      '@typescript-eslint/no-explicit-any': 'error',
      'no-restricted-imports': ['error', { patterns: barred(folder) }],
    },
  })),
  ...ENGINE_ROOMS.map((room) => ({
    files: [`src/engine/${room}/**/*.ts`],
    rules: {
      'no-restricted-imports': [
        'error',
        {
          patterns: [
            ...barred('engine'),
            {
              group: ENGINE_ROOMS.filter((r) => r !== room && !ENGINE_ARROWS[room].includes(r)).map(
                (r) => `**/${r}/**`,
              ),
              message: `engine/${room} may not import this: see ENGINE_ARROWS`,
            },
          ],
        },
      ],
    },
  })),
  {
    files: ['src/engine/**/*.ts'],
    rules: {
      'no-restricted-globals': ['error', 'Date', 'performance', 'setTimeout', 'window', 'document', 'crypto'],
      'no-restricted-properties': [
        'error',
        { object: 'Math', property: 'random', message: 'the engine has no randomness of its own' },
      ],
    },
  },
  { files: ['*.config.{js,ts}', 'e2e/*.config.ts'], rules: { 'no-restricted-exports': 'off' } },
);
