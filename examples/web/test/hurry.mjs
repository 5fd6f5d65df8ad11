// Changes that come while another one is under way.
import assert from 'node:assert/strict';

export async function run({ it, test }) {
  const { page } = it;
  const busy = () => page.textContent('#busy');
  const at = () => page.evaluate(() => ({ segments: window.pronatePage.state().settings.segments, solved: window.pronatePage.state().segments.length }));

  await test('a change of the picture leaves alone what is being split', async () => {
    await it.set({ limb: 1, segments: 4, ramp: 'linear', colour: true });
    const during = await page.evaluate(() => {
      const { elements } = document.querySelector('#settings');
      [...elements.segments].find((radio) => radio.value === '6').click();
      elements.colour.click();
      const { settings, segments } = window.pronatePage.state();
      return { settings, solved: segments.length, busy: document.querySelector('#busy').textContent };
    });
    assert.equal(during.solved, 4, 'the split is not there yet');
    assert.equal(during.settings.segments, 4, 'nor do the settings say so');
    assert.equal(during.settings.colour, false);
    assert.match(during.busy, /6 segments/, 'and it says what is under way');
    await it.idle();
    assert.deepEqual(await at(), { segments: 6, solved: 6 });
    assert.equal((await it.state()).settings.colour, false, 'which is not forgotten when it is');
    assert.equal(await busy(), '');
    await page.check('input[name=colour]');
  });

  await test('the last choice holds', async () => {
    await page.evaluate(() => {
      const { elements } = document.querySelector('#settings');
      const click = (name, value) => [...elements[name]].find((radio) => radio.value === value).click();
      for (const n of ['2', '3', '5']) click('segments', n);
      click('ramp', 'smooth');
      click('field', 'shortest');
    });
    await it.idle();
    const { settings, specification, segments } = await it.state();
    assert.deepEqual([settings.segments, settings.ramp, settings.field], [5, 'smooth', 'shortest']);
    assert.deepEqual([segments.length, specification.ramp, specification.field], [5, 'smooth', 'shortest']);
    await it.set({ limb: 0, segments: 4, ramp: 'linear', field: 'least_roll' });
  });
}
