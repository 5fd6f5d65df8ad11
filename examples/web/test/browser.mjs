// A headless Chromium, and pages in it that are watched: a console message, an error or
// a request to another host is a failure.
import assert from 'node:assert/strict';
import { existsSync } from 'node:fs';
import { chromium } from 'playwright-core';

const flags = [
  '--headless', '--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking',
  '--disable-component-update', '--disable-sync', '--enable-unsafe-swiftshader', // WebGL without a graphics card
];

export const sizes = {
  desktop: { viewport: { width: 1440, height: 900 } },
  small: { viewport: { width: 1000, height: 640 } }, // draws fast, where the size does not matter
  phone: { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true, deviceScaleFactor: 2 },
};

export async function launch() {
  const executablePath = process.env.CHROMIUM ?? '/usr/bin/chromium';
  if (!existsSync(executablePath)) throw new Error(`${executablePath}: not there; CHROMIUM=path says where a Chromium is`);
  return chromium.launch({ executablePath, args: flags });
}

// open starts the page and waits until it has something to show.
export async function open(browser, url, options) {
  const context = await browser.newContext({ acceptDownloads: true, ...options });
  const page = await context.newPage();
  await page.addInitScript(countGraphics);
  const wrong = [];
  page.on('console', (message) => {
    // The software renderer remarks on screenshots; that is not the page.
    if (!message.text().includes('GL Driver Message')) wrong.push(`console ${message.type()}: ${message.text()}`);
  });
  page.on('pageerror', (error) => wrong.push(error.stack));
  page.on('requestfailed', (request) => wrong.push(`failed: ${request.url()}`));
  const host = new URL(url).host;
  page.on('request', (request) => {
    const asked = new URL(request.url());
    if (!['blob:', 'data:'].includes(asked.protocol) && asked.host !== host) wrong.push(`asked ${request.url()}`);
  });
  await page.goto(url);
  await page.waitForFunction(() => window.pronatePage || document.querySelector('#alert').textContent, null, { timeout: 30_000 });
  assert.equal(await page.textContent('#alert'), '');
  return {
    page,
    state: () => page.evaluate(() => window.pronatePage.state()),
    set: (settings) => page.evaluate((values) => window.pronatePage.set(values), settings),
    // drawn waits for the frame after a change.
    drawn: () => page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => done())))),
    // idle waits until nothing is being split or read.
    idle: () => page.waitForFunction(() => document.querySelector('main').getAttribute('aria-busy') === 'false'),
    async handles() {
      await page.evaluate(() => scrollTo(0, 0)); // where they can be taken
      const [drawn, box] = [await page.evaluate(() => window.pronatePage.handles()), await page.locator('#stage').boundingBox()];
      const place = ({ x, y, z }) => ({ x: x + box.x, y: y + box.y, z });
      return drawn.map(({ knob, ring }) => ({ knob: place(knob), ring: ring.map(place) }));
    },
    async close() {
      await context.close();
      assert.deepEqual(wrong, [], 'nothing on the console, no request to another host');
    },
  };
}

// countGraphics runs in the page before all else: it counts what the graphics card holds.
function countGraphics() {
  const held = { buffers: 0, textures: 0, programs: 0 };
  const { prototype } = WebGL2RenderingContext;
  for (const [kind, name] of [['buffers', 'Buffer'], ['textures', 'Texture'], ['programs', 'Program']]) {
    const { [`create${name}`]: create, [`delete${name}`]: remove } = prototype;
    prototype[`create${name}`] = function () {
      held[kind]++;
      return create.call(this);
    };
    prototype[`delete${name}`] = function (one) {
      held[kind]--;
      remove.call(this, one);
    };
  }
  window.heldByGraphics = held;
}
