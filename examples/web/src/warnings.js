// What to look at twice, one line each, as `pronate split` words it.

// warningsOf takes what detecting and splitting said, and the limb's part of the answer.
export function warningsOf(detected, answer, { weight_moved_max: moved }) {
  const lines = new Set([...detected, ...answer.warnings].map((text) => `warning: ${text}`)); // both say some
  if (moved > 0.1) lines.add('More than 10\u00a0% of a vertex’s weight moved, for want of influences: pronate split --influences 8 makes room.');
  return [...lines];
}

export function showWarnings(list, lines) {
  list.replaceChildren(...lines.map((line) => {
    const item = document.createElement('li');
    // An option of the command line stays in one piece.
    for (const [i, part] of line.split(/(--\w+ \d+)/).entries()) {
      const element = item.appendChild(document.createElement('span'));
      element.textContent = part;
      if (i % 2) element.className = 'whole';
    }
    return item;
  }));
}
