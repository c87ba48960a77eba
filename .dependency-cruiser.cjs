/**
 * The boundaries of the house (DEVELOPERS.md), held by a tool. `npm run check` fails when one is crossed; each says why it
 * stands, so that whoever wants to cross it knows what would be lost.
 */
const inside = (...rooms) => `^lib/core/(${rooms.join('|')})/`;
const packages = (...names) => `node_modules/(${names.join('|')})(/|$)`;
const temporal = packages('temporal-polyfill');
const yjs = packages('yjs', 'y-protocols', 'y-websocket', 'y-indexeddb', 'lib0', '@tiptap/y-tiptap');

/** A room of the core may import the rooms before it, never one after it. */
const oneWay = (room, ...later) => ({
  name: `core-${room}-looks-back-only`,
  comment: `${room} is understood, tested and reused without ${later.join(', ')}: one direction only.`,
  severity: 'error',
  from: { path: inside(room) },
  to: { path: inside(...later) },
});

module.exports = {
  forbidden: [
    {
      name: 'no-cycles',
      comment:
        'Files that need each other cannot be read, tested or moved alone. Types may refer to each other.',
      severity: 'error',
      from: {},
      to: { circular: true, viaOnly: { dependencyTypesNot: ['type-only'] } },
    },
    {
      name: 'lib-knows-no-house',
      comment:
        'lib runs in browser, worker, server and command alike; the interface and the server stand on it.',
      severity: 'error',
      from: { path: '^lib/' },
      to: { path: '^(app|server|tests)/' },
    },
    {
      name: 'app-and-server-apart',
      comment:
        'Pages are compiled into a module graph of their own; what they need of the server is handed to them by lib/access.',
      severity: 'error',
      from: { path: '^app/' },
      to: { path: '^(server|tests)/' },
    },
    {
      name: 'server-without-app',
      comment: 'The server hands requests to the pages; it never reaches into them.',
      severity: 'error',
      from: { path: '^server/' },
      to: { path: '^(app|tests)/' },
    },
    {
      name: 'core-is-pure',
      comment:
        'Equal input gives equal output in every engine: no I/O, no clock, no packages but zod, and one hash.',
      severity: 'error',
      from: { path: '^lib/core/' },
      to: { pathNot: ['^lib/core/', packages('zod', '@noble/hashes')] },
    },
    {
      name: 'one-hash-in-core',
      comment: 'A digest is made in one place only, so that equal edits are equal bytes everywhere.',
      severity: 'error',
      from: { path: '^lib/core/', pathNot: '^lib/core/edit/(digest|canonical)\\.ts$' },
      to: { path: packages('@noble/hashes') },
    },
    {
      name: 'schemas-without-eval',
      comment:
        'Zod is set up in one file so that it never tries eval, which the policy of the pages forbids.',
      severity: 'error',
      from: { path: '^(app|lib|server)/', pathNot: '^lib/core/zod(Parts)?\\.ts$' },
      to: { path: packages('zod') },
    },
    oneWay('signal', 'song', 'edit', 'compare', 'dance', 'areas', 'agreed', 'checks', 'handover'),
    oneWay('song', 'edit', 'compare', 'dance', 'areas', 'agreed', 'checks', 'handover'),
    oneWay('edit', 'compare', 'dance', 'areas', 'agreed', 'checks', 'handover'),
    oneWay('compare', 'dance', 'areas', 'agreed', 'checks', 'handover'),
    oneWay('dance', 'compare', 'areas', 'agreed', 'checks', 'handover'),
    oneWay('areas', 'agreed', 'checks', 'handover'),
    oneWay('agreed', 'checks', 'handover'),
    oneWay('checks', 'handover'),
    {
      name: 'rules-stand-alone',
      comment:
        'A rule can be read, tested, changed or dropped without another; what two share lies beside them.',
      severity: 'error',
      from: { path: '^lib/core/checks/rules/' },
      to: { path: '^lib/core/checks/rules/' },
    },
    {
      name: 'documents-in-few-rooms',
      comment:
        'Shared documents are read and written in lib/board, sent in server/sync and opened in app/_client; all else sees plain data.',
      severity: 'error',
      from: { path: '^(app|lib|server)/', pathNot: '^(lib/board|server/sync|app/_client)/|^app/_ui/rich' },
      to: { path: yjs },
    },
    {
      name: 'routes-without-documents',
      comment:
        'Two copies of Yjs in one process corrupt documents: routes ask the server instead, however indirectly.',
      severity: 'error',
      from: { path: '^app/.*route\\.tsx?$' },
      to: { path: packages('yjs'), reachable: true },
    },
    {
      name: 'zones-in-one-room',
      comment:
        'Where a wall time meets a time zone it is reckoned once, so that every paper and page says the same second.',
      severity: 'error',
      from: { path: '^(app|lib|server)/', pathNot: '^lib/(zone/|export/zones\\.ts$)' },
      to: { path: temporal },
    },
    {
      name: 'sheet-without-zones',
      comment:
        'The calendar library weighs 20 KB compressed: no page that shows no time of the evening waits for it.',
      severity: 'error',
      from: { path: '^app/', pathNot: '^app/(_handover/entry\\.tsx$|api/)' },
      to: { path: '^lib/(zone/entryTimes|export/(?!needs))' },
    },
    {
      name: 'drivers-in-store',
      comment: 'One port to what is kept, whose adapters pass one suite of tests.',
      severity: 'error',
      from: { path: '^(app|lib|server)/', pathNot: '^lib/store/' },
      to: { path: packages('libsql', 'pg', '@redis/client') },
    },
    {
      name: 'lib-without-node',
      comment:
        'What a browser runs has no files or processes; what only node can is in the store, or named so.',
      severity: 'error',
      from: { path: '^lib/', pathNot: '^lib/(store|export)/|\\.node\\.ts$' },
      to: { dependencyTypes: ['core'], pathNot: '^(node:)?crypto$' },
    },
    {
      name: 'lib-without-pages',
      comment: 'React draws pages and papers; nothing that decides depends on it.',
      severity: 'error',
      from: { path: '^lib/', pathNot: '^lib/export/' },
      to: { path: packages('react', 'react-dom', 'next', '@tiptap') },
    },
    {
      name: 'nothing-missing',
      comment: 'What cannot be found cannot run.',
      severity: 'error',
      from: {},
      to: { couldNotResolve: true },
    },
    {
      name: 'nothing-of-development',
      comment:
        'What runs in production is installed for production; the command runs from its sources, by the loader of development.',
      severity: 'error',
      from: { path: '^(app|lib|server)/', pathNot: '^server/(setup|command/start)\\.mjs$' },
      to: { dependencyTypes: ['npm-dev'], dependencyTypesNot: ['type-only'] },
    },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['import', 'node', 'default', 'types'],
      extensions: ['.ts', '.tsx', '.mjs', '.js', '.css'],
    },
  },
};
