// The page for everybody: names, keyboard, contrast, sizes.
import assert from 'node:assert/strict';

// anywhere is what holds at every size, in light and in dark.
export async function anywhere({ it, test, name }) {
  const { page } = it;
  await page.evaluate(() => (document.querySelector('details').open = true));
  for (const colorScheme of ['light', 'dark']) {
    await test(`text can be read, ${name}, ${colorScheme}`, async () => {
      await page.emulateMedia({ colorScheme });
      const { count, low } = await page.evaluate(contrasts);
      assert.ok(count > 40, `${count} texts`);
      assert.deepEqual(low, [], 'a contrast of 4.5 at least, as WCAG 2 AA asks of text');
    });
  }
  await test(`nothing is wider than the page, ${name}`, async () => {
    const [wide, has] = await page.evaluate(() => [document.documentElement.scrollWidth, innerWidth]);
    assert.ok(wide <= has, `${wide} pixels of ${has}`);
  });
  await page.evaluate(() => (document.querySelector('details').open = false));
}

export async function fingers({ it, test }) {
  await test('fingers find what they look for', async () => {
    const small = await it.page.evaluate(() => [...document.querySelectorAll('button, select, summary, input[type=range], input[type=file], .choices label')]
      .map((e) => ({ what: e.textContent.trim() || e.id, height: e.getBoundingClientRect().height, width: e.getBoundingClientRect().width }))
      .filter(({ height, width }) => height < 44 || width < 44));
    assert.deepEqual(small, [], 'at least 44 pixels');
    assert.equal(await it.page.evaluate(() => getComputedStyle(document.querySelector('#stage')).touchAction), 'none');
  });
}

export async function keyboard({ it, test }) {
  const { page } = it;
  await test('everything has a name and a role', () => namesOf(it));
  await test('the keyboard goes through all of it in order', () => order(it));
  await test('a screen reader is told what is lost, once it is at rest', async () => {
    await page.click('#reset');
    await page.waitForFunction(() => /3 segments: narrowest 100/.test(document.querySelector('#spoken').textContent), null, { timeout: 5000 });
    assert.match(await page.getAttribute('#twists svg', 'aria-label'), /As solved: 0, 0, 0 degrees/);
    assert.equal(await page.getAttribute('#spoken', 'aria-live'), 'polite');
    assert.equal(await page.getAttribute('#alert', 'role'), 'alert');
  });
}

async function namesOf({ page }) {
  const client = await page.context().newCDPSession(page);
  const { nodes } = await client.send('Accessibility.getFullAXTree');
  const roles = ['button', 'slider', 'radio', 'checkbox', 'combobox', 'application', 'group', 'image', 'form', 'DisclosureTriangle'];
  const controls = nodes.filter((node) => !node.ignored && roles.includes(node.role?.value));
  const named = controls.map((node) => [node.role.value, node.name?.value ?? '']);
  assert.ok(named.filter(([role]) => role === 'slider').length === 3, JSON.stringify(named));
  assert.ok(named.filter(([role]) => role === 'radio').length === 14);
  assert.deepEqual(named.filter(([, name]) => !name.trim()), [], 'a name for each');
  assert.equal(nodes.filter((node) => !node.ignored && node.role?.value === 'heading').length, 5);
}

async function order({ page }) {
  await page.evaluate(() => document.activeElement.blur());
  const seen = [];
  for (let i = 0; i < 40; i++) {
    await page.keyboard.press('Tab');
    const at = await page.evaluate(() => {
      const e = document.activeElement;
      const all = [...document.querySelectorAll('*')];
      const { outlineStyle, outlineWidth } = getComputedStyle(e);
      return e === document.body ? null : { what: e.id || e.name || e.textContent.trim(), place: all.indexOf(e), outline: outlineStyle !== 'none' && parseFloat(outlineWidth) >= 1 };
    });
    if (!at || at.place < (seen.at(-1)?.place ?? -1)) break; // once round
    seen.push(at);
  }
  assert.deepEqual(seen.filter(({ outline }) => !outline), [], 'focus can be seen');
  const names = seen.map(({ what }) => what);
  for (const what of ['stage', 'limb', 'reset', 'joint-first', 'joint-twist', 'segments', 'ramp', 'field', 'skinning', 'compare', 'colour', 'own', 'take']) {
    assert.ok(names.includes(what), `${what} among ${names}`);
  }
}

// contrasts runs in the page: the contrast of every text with what is behind it.
function contrasts() {
  const canvas = document.createElement('canvas').getContext('2d', { willReadFrequently: true });
  const rgba = (colour) => {
    canvas.clearRect(0, 0, 1, 1);
    canvas.fillStyle = colour;
    canvas.fillRect(0, 0, 1, 1);
    return canvas.getImageData(0, 0, 1, 1).data;
  };
  const luminance = ([r, g, b]) => [r, g, b].map((v) => v / 255).map((v) => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4)).reduce((sum, v, i) => sum + v * [0.2126, 0.7152, 0.0722][i], 0);
  const behind = (e) => {
    for (; e; e = e.parentElement) {
      const colour = rgba(getComputedStyle(e).backgroundColor);
      if (colour[3] === 255) return colour;
    }
    return rgba('white');
  };
  const low = [];
  let count = 0;
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node = walk.nextNode(); node; node = walk.nextNode()) {
    const e = node.parentElement, style = getComputedStyle(e);
    if (!node.data.trim() || e.closest('.quiet, fieldset:disabled .choices, :disabled, script, style, option') || !e.getClientRects().length) continue;
    const ink = e instanceof SVGElement ? style.fill : style.color;
    const [a, b] = [luminance(rgba(ink)), luminance(behind(e))].sort((x, y) => y - x);
    count++;
    const contrast = (a + 0.05) / (b + 0.05);
    if (contrast < 4.5) low.push(`${node.data.trim().slice(0, 40)}: ${contrast.toFixed(2)}`);
  }
  return { count, low };
}
