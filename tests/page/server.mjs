// The program under test, serving a folder of its own.
import { execFileSync, spawn } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const here = dirname(fileURLToPath(import.meta.url));
const samples = join(here, '..', '..', 'sample-charts');

/** @param {{program: string, page?: string, charts?: string[], files?: Record<string, string>}} options */
export async function serve({ program, page, charts = [], files = {} }) {
  const home = mkdtempSync(join(tmpdir(), 'shedbook-page-'));
  const folder = join(home, 'tunes');
  const log = join(home, 'practice.db');
  mkdirSync(folder);
  for (const chart of charts) cpSync(join(samples, `${chart}.tune`), join(folder, `${chart}.tune`));
  for (const [name, text] of Object.entries(files)) writeFileSync(join(folder, name), text);
  const env = { ...process.env, XDG_DATA_HOME: join(home, 'data'), XDG_CACHE_HOME: join(home, 'cache'), SHEDBOOK_DATA: log };
  const child = spawn(program, ['serve', folder, '--no-open', ...(page ? ['--page', page] : [])], { env, stdio: ['ignore', 'pipe', 'pipe'] });
  let said = '';
  const address = await new Promise((resolve, reject) => {
    const timer = setTimeout(() => reject(new Error(`no address within ten seconds: ${said}`)), 10000);
    const read = (bytes) => {
      said += bytes;
      const match = /http:\/\/\S+\/open\?key=\S+/.exec(said);
      if (match) {
        clearTimeout(timer);
        resolve(match[0]);
      }
    };
    child.on('error', reject);
    child.stdout.on('data', read);
    child.stderr.on('data', read);
    child.once('exit', (code) => reject(new Error(`ended with ${code}: ${said}`)));
  });
  let ended = false;
  child.on('exit', (code, signal) => {
    if (!ended) console.log(`the program ended by itself: ${code ?? signal}: ${said}`);
  });
  return {
    address,
    origin: new URL(address).origin,
    folder,
    home,
    /** The command line beside the page. */
    run: (...words) => execFileSync(program, words, { env, encoding: 'utf8' }),
    said: () => said,
    async end() {
      ended = true;
      child.removeAllListeners('exit');
      const over = new Promise((resolve) => child.once('exit', resolve));
      child.kill('SIGINT');
      await Promise.race([over, new Promise((resolve) => setTimeout(resolve, 5000))]);
      if (child.exitCode === null) child.kill('SIGKILL');
      rmSync(home, { recursive: true, force: true });
    },
  };
}
