// A student's page in one file, opened from the disk: drills drawn, heard and ticked without a server, and the ticks brought home.
// usage: node phone.mjs PROGRAM [--pictures FOLDER]
import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { parseArgs } from 'node:util';
import { accessFaults, launch, openPage } from './browser.mjs';
import { claim, close, expect, expectNone } from './claims.mjs';

const { values, positionals } = parseArgs({ allowPositionals: true, options: { pictures: { type: 'string' } } });
const [program] = positionals;
const home = mkdtempSync(join(tmpdir(), 'shedbook-phone-'));
const tune = join(dirname(fileURLToPath(import.meta.url)), '..', '..', 'sample-charts', 'ferry-at-six.tune');
const env = { ...process.env, XDG_DATA_HOME: join(home, 'data'), XDG_CACHE_HOME: join(home, 'cache'), SHEDBOOK_DATA: join(home, 'practice.db') };
const run = (...words) => execFileSync(program, words, { env, encoding: 'utf8', stdio: ['ignore', 'pipe', 'pipe'] });
const file = join(home, 'book.html');
const browser = await launch();
let opened = null;

await claim('a book is written as one file of 12 MB at most', () => {
  run('book', tune, '--for', 'alto-sax', '--level', '2', '-o', file);
  const { size } = statSync(file);
  expect(size < 12e6, `${size} bytes`);
  return `${(size / 1e6).toFixed(1)} MB`;
});

await claim('it opens from the disk, draws its drills and asks nobody', async () => {
  const address = pathToFileURL(file).href;
  opened = await openPage(browser, { address, origin: 'file://' }, { width: 390, height: 800 });
  await opened.page.locator('.drill.now .mus .note').first().waitFor({ timeout: 30000 });
  expect((await opened.page.locator('.drill.now .at .cs').count()) > 0, 'no chord symbols');
  // The pencil mark of the loop stands between key and first note, in pixels.
  const places = await opened.page.evaluate(() => {
    const box = (name) => document.querySelector(`.drill.now ${name}`).getBoundingClientRect();
    return { key: box('.keySig').right, mark: box('.rep.begins').left, note: box('.note .notehead').left };
  });
  expect(places.key <= places.mark && places.mark + 8 < places.note, JSON.stringify(places));
});

await claim('it sounds after the word about the volume, and the cursor moves', async () => {
  const { page } = opened;
  await page.keyboard.press(' ');
  await page.getByRole('button', { name: 'Hear quietly' }).press('Enter');
  await page.waitForFunction(() => window.ear.starts.length > 0, null, { timeout: 15000 });
  await page.locator('.drill.now .cur:not([hidden])').waitFor({ timeout: 15000 });
  const places = new Set();
  for (let i = 0; i < 120 && places.size < 3; ++i) {
    places.add(await page.locator('.drill.now .cur').getAttribute('data-quarters'));
    await page.waitForTimeout(200);
  }
  expect(places.size >= 3, `the cursor stood at ${places.size} places only`);
});

await claim('More closes when it sounds, and the staff in play stands over the foot line', async () => {
  const { page } = opened;
  const more = page.locator('.foot').getByRole('button', { name: 'More' });
  await page.keyboard.press(' ');
  await page.locator('.foot').getByRole('button', { name: 'Hear' }).waitFor();
  await more.click();
  await page.evaluate(() => scrollTo(0, 0));
  await page.locator('.foot').getByRole('button', { name: 'Hear' }).click();
  await page.locator('.drill.now .cur:not([hidden])').waitFor({ timeout: 15000 });
  expect((await more.getAttribute('aria-expanded')) === 'false', 'More is open');
  await page.waitForTimeout(200);
  const seen = await page.evaluate(() => ({ staff: document.querySelector('.cur').parentNode.getBoundingClientRect().toJSON(), foot: document.querySelector('.foot').getBoundingClientRect().top }));
  expect(seen.staff.top >= 0 && seen.staff.bottom <= seen.foot, JSON.stringify(seen));
  if (values.pictures) {
    mkdirSync(values.pictures, { recursive: true });
    await page.screenshot({ path: join(values.pictures, 'phone-plays.png') });
  }
});

await claim('who plays with hidden notes ticks "from memory" alone, not with Right', async () => {
  const { page } = opened;
  await page.locator('.foot').getByRole('button', { name: 'Stop' }).click();
  await page.keyboard.press('h');
  const memory = page.locator('.drill.now .boxes .box', { hasText: 'from memory' }).locator('input');
  await page.locator('.foot').getByRole('button', { name: 'Right' }).click();
  await page.locator('.foot .try', { hasText: 'right at' }).waitFor();
  expect(!(await memory.isChecked()), 'it is ticked');
  await page.locator('.foot').getByRole('button', { name: 'Undo' }).click();
  await memory.locator('..').click();
  await page.locator('.foot .try', { hasText: 'from memory' }).waitFor();
  expect(await memory.isChecked(), 'it is not ticked');
  await page.locator('.foot').getByRole('button', { name: 'Undo' }).click();
  await page.locator('.foot').getByRole('button', { name: 'Undo', disabled: true }).waitFor();
  await page.keyboard.press('h');
});

await claim('a tick stays when the file is opened again', async () => {
  const { page } = opened;
  await page.locator('.drill .boxes .box').first().click();
  await page.locator('.drill .boxes input:checked').first().waitFor({ state: 'attached' });
  await page.reload();
  await page.locator('.drill .boxes input:checked').first().waitFor({ state: 'attached', timeout: 20000 });
  if (values.pictures) {
    mkdirSync(values.pictures, { recursive: true });
    await page.locator('.drill.now .mus .note').first().waitFor({ timeout: 30000 });
    await page.screenshot({ path: join(values.pictures, 'phone.png') });
  }
});

await claim('its ticks are saved as a file that the log takes in once', async () => {
  const { page } = opened;
  const [download] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: 'Save my ticks' }).click()]);
  const ticks = await download.path();
  const kept = join(home, 'ticks.json');
  expect(JSON.parse(readFileSync(ticks, 'utf8')).entries.length === 1, 'not one entry');
  await download.saveAs(kept);
  run('log', 'import', kept);
  run('log', 'import', kept);
  const entries = run('log', 'show', '--json').split('\n').filter((line) => line.includes('"work"'));
  expect(entries.length === 1, `${entries.length} entries`);
});

await claim('axe-core finds nothing serious, nothing stands out at the side, the console is empty', async () => {
  const found = await accessFaults(opened.page);
  const over = await opened.page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
  expect(over <= 0, `${over} px`);
  expectNone([...found, ...opened.faults], 'faults');
});

await claim('where no storage is allowed a tick is shown all the same, and the page says how long it lasts', async () => {
  const context = await browser.newContext({ viewport: { width: 390, height: 800 } });
  await context.addInitScript(() => {
    Object.defineProperty(window, 'localStorage', { get: () => { throw new DOMException('denied', 'SecurityError'); } });
  });
  const page = await context.newPage();
  await page.goto(pathToFileURL(file).href);
  await page.locator('.drill .boxes .box').first().click();
  await page.locator('.drill .boxes input:checked').first().waitFor({ state: 'attached', timeout: 20000 });
  await page.getByText('Ticks last until you close this page').waitFor();
  await context.close();
});

await claim('without scripts every drill is there as notes, and the page says what is not', async () => {
  const context = await browser.newContext({ javaScriptEnabled: false, viewport: { width: 390, height: 800 } });
  const page = await context.newPage();
  await page.goto(pathToFileURL(file).href);
  expect((await page.locator('noscript').isVisible()) && (await page.locator('noscript').textContent()).includes('runs no scripts'), 'nothing is said');
  const book = JSON.parse(await page.locator('#book').textContent());
  const pieces = book.sections.flatMap((section) => section.pieces);
  const drawn = await page.locator('#still svg[role=img]').count();
  expect(drawn === pieces.length, `${drawn} of ${pieces.length} drills are drawn`);
  const box = await page.locator('#still svg[role=img]').first().boundingBox();
  expect(box.height > 60 && box.width > 300, JSON.stringify(box));
  const heads = await page.locator('#still svg[role=img]').first().locator('use[href^="#h"]').count();
  const notes = (pieces[0].musicxml.match(/<pitch>/g) ?? []).length;
  expect(heads === notes, `${heads} heads of ${notes} notes`);
  if (values.pictures) {
    await page.screenshot({ path: join(values.pictures, 'phone-without-scripts.png') });
  }
  await context.close();
  return `${drawn} drills`;
});

await browser.close();
rmSync(home, { recursive: true, force: true });
process.exitCode = close() ? 0 : 1;
