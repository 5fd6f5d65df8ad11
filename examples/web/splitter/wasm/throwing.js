
// Follows Go's wasm_exec.js. A Go function cannot throw: it returns an Error, and this
// throws it.
globalThis.pronateThrowing = (f) => (...args) => {
  const result = f(...args);
  if (result instanceof Error) throw result;
  return result;
};
