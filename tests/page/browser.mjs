// Chromium as installed (Debian), with an ear and an eye: what the page says on the console, where it asks, what it sounds.
import { existsSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { chromium } from 'playwright-core';

const kPlaces = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];
const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

export const chromiumPath = () => kPlaces.find(existsSync) ?? null;

export const launch = () => chromium.launch({ executablePath: chromiumPath(), args: ['--no-sandbox', '--mute-audio', '--disable-gpu', '--disable-dev-shm-usage'], timeout: 30000 });

// Runs in the page before its scripts: notes every source that is started, and records what reaches the loudspeaker.
function listen() {
  const ear = { starts: [], blocks: [], recording: false };
  window.ear = ear;
  const start = AudioBufferSourceNode.prototype.start;
  AudioBufferSourceNode.prototype.start = function (when = 0, offset = 0, ...rest) {
    ear.context = this.context;
    ear.starts.push({ asked: performance.now(), when, offset, loop: this.loop, loopStart: this.loopStart, loopEnd: this.loopEnd });
    return start.call(this, when, offset, ...rest);
  };
  const connect = AudioNode.prototype.connect;
  AudioNode.prototype.connect = function (to, ...rest) {
    if (to === this.context.destination && !ear.tap && this.context instanceof AudioContext) {
      const tap = this.context.createScriptProcessor(8192, 1, 1);
      ear.tap = tap;
      tap.onaudioprocess = (event) => {
        if (ear.recording) ear.blocks.push({ at: event.playbackTime, samples: new Float32Array(event.inputBuffer.getChannelData(0)) });
      };
      connect.call(tap, this.context.destination);
      connect.call(this, tap);
    }
    return connect.call(this, to, ...rest);
  };
}

/** A page of a server with its console and its requests watched: { page, faults, close } */
export async function openPage(browser, server, { width = 1440, height = 900, dark = false } = {}) {
  const context = await browser.newContext({ viewport: { width, height }, colorScheme: dark ? 'dark' : 'light', acceptDownloads: true });
  await context.addInitScript(listen);
  const page = await context.newPage();
  const faults = [];
  // What the recorder of these tests is told is not the page's.
  const ofTests = /ScriptProcessorNode is deprecated/;
  page.on('console', (message) => ofTests.test(message.text()) || faults.push(`console ${message.type()}: ${message.text()}`));
  page.on('pageerror', (fault) => faults.push(`page: ${fault.message}`));
  page.on('request', (request) => {
    const url = request.url();
    if (!url.startsWith(server.origin) && !/^(data|blob):/.test(url)) faults.push(`outside request: ${url}`);
  });
  await page.goto(server.address);
  return { page, faults, close: () => context.close() };
}

const kTall = 3000;

/** What axe-core finds that is serious or worse, in words. */
export async function accessFaults(page) {
  // What lies half under the foot line is scrolled out of it: it is no small target.
  const size = page.viewportSize();
  await page.setViewportSize({ ...size, height: kTall });
  await page.evaluate(axe);
  const { violations } = await page.evaluate(() => window.axe.run(document, { runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'] }));
  await page.setViewportSize(size);
  return violations
    .filter((one) => ['serious', 'critical'].includes(one.impact))
    .map((one) => `${one.id}: ${one.help} (${one.nodes.slice(0, 3).map((node) => node.target.join(' ')).join('; ')})`);
}
