import './style.css';
import { openDoor } from './door.js';
import { fillLegend } from './legend.js';
import { takeFiles } from './own-file.js';
import { Page } from './page.js';
import * as solver from './solver.js';
import { Splitter } from './splitter.js';

const base = new URL('.', document.baseURI).href;

async function begin() {
  fillLegend(document.querySelector('#legend'));
  const splitter = new Splitter();
  const page = new Page(document.querySelector('main'), splitter);
  const wren = await Promise.all([fetch(new URL('wren.glb', base)).then((r) => r.arrayBuffer()), solver.start(base), splitter.start(base)]);
  const well = await page.take('wren.glb', new Uint8Array(wren[0]));
  takeFiles(document.documentElement, document.querySelector('#own'), (name, bytes) => page.take(name, bytes));
  if (!well) return; // and it said why
  // A limb at rest shows nothing: begin with one that is turned out and raised a little.
  page.turn('joint', { first: 20, second: 12, twist: 80 });
  window.pronatePage = openDoor(page);
}

begin().catch((error) => {
  document.querySelector('#alert').textContent = `This page could not start: ${error?.message ?? error}`;
  document.querySelector('main').setAttribute('aria-busy', 'false');
});
