// The keyboard on the picture: arrows bend, Shift with an arrow twists, Home resets.
const step = 5; // degrees

export function takeKeys(stage, { turn, reset, look }) {
  stage.addEventListener('keydown', (event) => {
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    const [x, y] = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key] ?? [0, 0];
    if (x || y) turn(step * x, step * y, event.shiftKey);
    else if (event.key === 'Home') reset();
    else if (event.key === ',' || event.key === '.') look(event.key === ',' ? -0.2 : 0.2, 1);
    else if (event.key === '+' || event.key === '-') look(0, event.key === '+' ? 1 / 1.15 : 1.15);
    else return;
    event.preventDefault();
  });
}
