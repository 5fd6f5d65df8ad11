// page.mjs QUESTIONS PACKAGE CHROMIUM ADDRESS HOW: opens the page, has every pose solved
// by window.pronatePage, and writes the answers. PACKAGE is the package.json whose
// playwright-core it takes, and CHROMIUM the browser. HOW is "solve", by the specification that is given, or
// "turn": by the limb that the page itself has found and split, as the form has it.
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { numbers, text } from './bits.mjs';

const [questions, packages, executablePath, address, how] = process.argv.slice(2);

const inPage = {
  solve: ({ solver, asked }) => asked.map(({ joint, tip }) => window.pronatePage.solve(solver, joint, tip)),
  async turn({ name, limb, asked }) {
    const door = window.pronatePage;
    const settings = { limb: door.state().limbs.indexOf(name.split(',')[0]), segments: limb.segments, ramp: limb.shares ?? 'linear' };
    if (limb.field) settings.field = limb.field;
    await door.set(settings);
    const solved = [];
    for (const { joint, tip } of asked) solved.push((await door.set({ joint, tip })).segments);
    return solved;
  },
}[how];

const { chromium } = createRequire(packages)('playwright-core');
const browser = await chromium.launch({
  executablePath,
  args: ['--no-sandbox', '--disable-gpu', '--no-first-run', '--disable-background-networking', '--disable-component-update', '--disable-sync', '--enable-unsafe-swiftshader'],
});
try {
  const page = await browser.newPage({ viewport: { width: 640, height: 480 } });
  page.on('pageerror', (error) => console.error(`the page: ${error.message}`));
  await page.goto(address);
  await page.waitForFunction(() => window.pronatePage || document.querySelector('#alert').textContent);
  const alert = await page.textContent('#alert');
  if (alert) throw new Error(`the page: ${alert}`);
  const answers = [];
  for (const { name, limb, solver, poses } of JSON.parse(readFileSync(questions, 'utf8'))) {
    const asked = poses.map(({ joint, tip }) => ({ joint: numbers(joint), tip: tip && numbers(tip) }));
    const solved = await page.evaluate(inPage, { name, limb, solver, asked });
    answers.push(solved.map((segments) => ({ float64: segments.map(text) })));
  }
  process.stdout.write(JSON.stringify(answers));
} finally {
  await browser.close();
}
