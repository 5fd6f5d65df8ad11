import './style.css';
import { openDoor } from './door.js';
import { fillLegend } from './legend.js';
import { takeFiles } from './own-file.js';
import { Page } from './page.js';
import * as solver from './solver.js';
import { Splitter } from './splitter.js';
import { limbsOf } from './words.js';

const base = new URL('.', document.baseURI).href;

async function begin() {
  fillLegend(document.querySelector('#legend'));
  const splitter = new Splitter();
  const page = new Page(document.querySelector('main'), splitter);
  const wren = served('wren.glb');
  await Promise.all([wren.catch(() => {}), solver.start(base), splitter.start(base)]);
  const well = await show(page, 'wren.glb', () => wren);
  takeFiles(document.documentElement, document.querySelector('#own'), (name, read) => show(page, name, read));
  if (!well) return; // and it said why
  window.pronatePage = openDoor(page);
}

// show takes a character. A limb at rest shows nothing: it begins with one that is
// turned out and raised a little.
async function show(page, name, read) {
  const well = await page.take(name, read);
  if (well) page.picture.turn('joint', { first: 20, second: 12, twist: 80 });
  document.querySelector('#own-said').textContent = well ? `Shown: ${name}, ${limbsOf(page.model.limbs.length)}.` : '';
  return well;
}

async function served(name) {
  const response = await fetch(new URL(name, base));
  if (!response.ok) throw new Error(`${response.status} ${response.statusText}`);
  return response.arrayBuffer();
}

begin().catch((error) => {
  document.querySelector('#alert').textContent = `This page could not start: ${error?.message ?? error}`;
  document.querySelector('main').setAttribute('aria-busy', 'false');
});
