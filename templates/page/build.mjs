// Bundles the page into a folder: `npm run build -- --outdir FOLDER` (or OUT in the environment; else dist beside this file).
// What lies there afterwards is all that `shedbook serve` hands out; nothing in it asks for anything elsewhere.
import { build } from 'esbuild';
import { createHash } from 'node:crypto';
import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';

const here = dirname(fileURLToPath(import.meta.url));
const { values } = parseArgs({ options: { outdir: { type: 'string' } } });
const out = resolve(values.outdir ?? process.env.OUT ?? join(here, 'dist'));

const common = {
  absWorkingDir: here,
  outdir: out,
  bundle: true,
  minify: true,
  format: 'esm',
  target: ['chrome100', 'firefox110', 'safari16'],
  charset: 'utf8',
  legalComments: 'none',
  logLevel: 'warning',
};

// What its makers ship elsewhere: the fonts of the page, and the terms of Verovio, whose package only names them.
const ownTexts = [
  ['TeX Gyre Heros and TeX Gyre Schola, fonts of the GUST e-foundry', 'GUST-FONT-LICENSE.txt'],
  ['GNU Lesser General Public License 3, of Verovio. Its source is at https://www.verovio.org, in the version named above; its ' +
    'code is unchanged, only fetched as a file of its own (build.mjs). Another build of it goes into the page with `npm install verovio@VERSION` in templates/page, and into the ' +
    'program with a new build of shedbook, or without one by `shedbook serve --page FOLDER`. Its music fonts (Leipzig, Bravura ' +
    'and others) are under the SIL Open Font License 1.1, https://openfontlicense.org.', 'LGPL-3.txt'],
  ['GNU General Public License 3, to which the one before refers', 'GPL-3.txt'],
];

// The licence texts of what is bundled, as their makers ship them.
function licences() {
  const lock = JSON.parse(readFileSync(join(here, 'package-lock.json'), 'utf8'));
  const texts = [];
  for (const [path, entry] of Object.entries(lock.packages)) {
    if (!path || entry.dev) continue;
    const folder = join(here, path);
    if (!existsSync(folder)) continue;
    const file = readdirSync(folder).find((name) => /^(licen[cs]e|copying)/i.test(name));
    const name = path.replace('node_modules/', '');
    const text = file ? readFileSync(join(folder, file), 'utf8').trim() : `Licence: ${entry.license}`;
    texts.push(`${name} ${entry.version} (${entry.license})\n\n${text}\n`);
  }
  for (const [title, file] of ownTexts) texts.push(`${title}\n\n${readFileSync(join(here, 'licences', file), 'utf8').trim()}\n`);
  return texts.join('\n' + '-'.repeat(72) + '\n\n');
}

// The engraver's package has its machine code as a text within the script. As a file of its own it is a third smaller, is
// compiled while it comes, and the browser keeps what it compiled.
const engraverCode = {
  name: 'engraver code',
  setup(builder) {
    builder.onLoad({ filter: /verovio-module\.mjs$/ }, ({ path }) => {
      const source = readFileSync(path, 'utf8');
      const begin = source.indexOf("function findWasmBinary(){return binaryDecode('");
      const end = source.indexOf("')}", begin);
      const waits = 'return instantiateArrayBuffer(binaryFile,imports)';
      if (begin < 0 || end < 0 || !source.includes(waits)) throw new Error('another version of verovio: see engraverCode in build.mjs');
      const literal = source.slice(source.indexOf("'", begin), end + 1);
      // Made by the package itself: a letter beyond 255 stands for 0.
      const letters = new Function(`return ${literal}`)();
      writeFileSync(join(out, 'verovio.wasm'), Uint8Array.from(letters, (letter) => (letter.charCodeAt(0) > 255 ? 0 : letter.charCodeAt(0))));
      const contents = (source.slice(0, begin) + 'function findWasmBinary(){return ""' + source.slice(end + 2))
        .replace(waits, "return WebAssembly.instantiateStreaming(fetch(new URL('verovio.wasm',import.meta.url)),imports)");
      return { contents, loader: 'js' };
    });
  },
};

const hashOf = (text) => `'sha256-${createHash('sha256').update(text).digest('base64')}'`;

// What stands in for the server's part in the single file: src/phone/NAME in place of src/NAME.
const phoneParts = {
  name: 'phone parts',
  setup(builder) {
    builder.onResolve({ filter: /\/(net|engraver|recording)\.js$/ }, ({ path, resolveDir }) => {
      const asked = resolve(resolveDir, path);
      const instead = join(here, 'src', 'phone', basename(asked));
      return { path: dirname(asked) === join(here, 'src') ? instead : asked };
    });
  },
};

// Glyphs of the engraver's font by the names that the program draws with (src/write/staff_svg.cpp), and their code points
// (Standard Music Font Layout 1.4); a staff space is 8 pixels high there and 250 units in the font.
const kGlyphs = { gc: 'E050', fc: 'E062', cc: 'E05C', fl: 'E260', na: 'E261', sh: 'E262', ss: 'E263', ff: 'E264', h1: 'E0A2', h2: 'E0A3', h4: 'E0A4', r4: 'E4E5', r8: 'E4E6', r16: 'E4E7', u8: 'E240', d8: 'E241', u16: 'E242', d16: 'E243' };
const kGlyphScale = 8 / 250;

// As the engraver draws them in a score that has each of them.
async function glyphs() {
  const { default: createVerovioModule } = await import('verovio/wasm');
  const { VerovioToolkit } = await import('verovio/esm');
  const toolkit = new VerovioToolkit(await createVerovioModule());
  toolkit.setOptions({ font: 'Leland', inputFrom: 'mei', header: 'none', footer: 'none', smuflTextFont: 'none' });
  const staff = (clef, line, content) => `<section><scoreDef><staffGrp><staffDef n="1" lines="5" clef.shape="${clef}" clef.line="${line}"/></staffGrp></scoreDef><measure><staff n="1"><layer>${content}</layer></staff></measure></section>`;
  const note = (dur, oct, more = '') => `<note dur="${dur}" oct="${oct}" pname="c" ${more}/>`;
  const rests = [4, 8, 16].map((dur) => `<rest dur="${dur}"/>`).join('');
  const notes = [1, 2, 4, 8, 16].map((dur) => note(dur, 4) + note(dur, 6)).join('');
  const signs = ['s', 'f', 'n', 'x', 'ff'].map((accid) => note(4, 5, `accid="${accid}"`)).join('');
  const score = staff('G', 2, notes + rests + signs) + staff('F', 4, '<mRest/>') + staff('C', 3, '<mRest/>');
  toolkit.loadData(`<mei xmlns="http://www.music-encoding.org/ns/mei"><music><body><mdiv><score><scoreDef><staffGrp><staffDef n="1" lines="5"/></staffGrp></scoreDef><section>${score}</section></score></mdiv></body></music></mei>`);
  let drawn = '';
  for (let page = 1; page <= toolkit.getPageCount(); ++page) drawn += toolkit.renderToSVG(page);
  return Object.entries(kGlyphs).map(([name, code]) => {
    const outline = new RegExp(`id="${code}[^"]*"[^>]*>\\s*<path[^>]* d="([^"]+)"`).exec(drawn)?.[1];
    if (!outline) throw new Error(`the engraver's font has no ${code} (${name})`);
    return `<path id="${name}" transform="scale(${kGlyphScale} -${kGlyphScale})" d="${outline}"/>`;
  }).join('');
}

// One file with all its scripts, styles and fonts; the program puts a book where @BOOK@ stands, and its notes as drawings at @NOTES@.
async function phonePage() {
  const written = async (options) => (await build({ ...common, ...options, write: false })).outputFiles[0].text;
  const code = await written({ entryPoints: ['src/phone/main.js'], format: 'iife', plugins: [phoneParts], external: ['node:*'], define: { 'import.meta.url': '""' } });
  // Within HTML neither the end of a script nor the begin of a comment may stand in a script.
  const script = code.replace(/<(?=\/script|script|!--)/gi, '\\x3c').trimEnd();
  const style = (await written({ entryPoints: ['style/app.css'], loader: { '.woff2': 'dataurl' } })).trimEnd();
  const policy = [
    "default-src 'none'",
    `script-src ${hashOf(script)} 'wasm-unsafe-eval'`,
    `style-src ${hashOf(style)}`,
    "style-src-attr 'unsafe-inline'",
    'img-src data:',
    'font-src data:',
    "base-uri 'none'",
    "form-action 'none'",
  ].join('; ');
  const parts = { POLICY: policy, STYLE: style, SCRIPT: script, GLYPHS: await glyphs() };
  const filled = readFileSync(join(here, 'phone.html'), 'utf8').replace(/@(POLICY|STYLE|SCRIPT|GLYPHS)@/g, (_, name) => parts[name]);
  writeFileSync(join(out, 'phone.html'), filled);
}

rmSync(out, { recursive: true, force: true });
mkdirSync(out, { recursive: true });
await build({ ...common, entryPoints: { app: 'src/main.js' } });
// The engraver is a file of its own: a part under another licence (LGPL) that can be exchanged, and a thread of its own.
await build({ ...common, entryPoints: { engraver: 'src/engraver_worker.js' }, external: ['node:*'], plugins: [engraverCode] });
await build({
  ...common,
  entryPoints: { app: 'style/app.css' },
  loader: { '.woff2': 'file' },
  assetNames: '[name]',
});
cpSync(join(here, 'index.html'), join(out, 'index.html'));
await phonePage();
writeFileSync(join(out, 'licences.txt'), licences());
