// The scale of colours with its numbers.
import { css, most } from './colours.js';
import { creases } from './readout.js';
import { percent } from './words.js';

const steps = 4;

export function fillLegend(legend) {
  const stops = Array.from({ length: 25 }, (_, i) => css(i / 24));
  legend.querySelector('.bar').style.background = `linear-gradient(to right, ${stops.join(', ')})`;
  legend.querySelector('.ticks').append(
    ...Array.from({ length: steps + 1 }, (_, k) => {
      const tick = document.createElement('span');
      const along = `${(100 * k) / steps}%`; // the outer ones stay inside the bar
      tick.style.left = along;
      tick.style.transform = `translateX(-${along})`;
      tick.textContent = percent((most * k) / steps);
      return tick;
    }),
  );
  for (const place of document.querySelectorAll('.creases')) place.textContent = creases;
}
