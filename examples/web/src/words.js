// Numbers and limbs in words.
export const percent = (part) => `${Math.round(100 * part)}\u00a0%`;
export const areaOf = (squareMetres) => (squareMetres < 1 ? `${Math.round(1e4 * squareMetres)}\u00a0cm²` : `${squareMetres.toPrecision(3)}\u00a0m²`);
export const limbsOf = (number) => (number === 1 ? 'one limb' : `${number} limbs`);
export const countOf = (segments) => (segments === 1 ? 'one joint' : `${segments} segments`);
export const stem = (name) => name.replace(/\.[^.]*$/, '');

// quoted is a file's name as a shell takes it.
export const quoted = (name) => (/^[\w.-]+$/.test(name) ? name : `'${name.replaceAll("'", "'\\''")}'`);
