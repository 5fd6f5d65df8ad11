// A person's own character, chosen or dropped. It is read by the page and sent nowhere.
export function takeFiles(root, input, take) {
  const read = async (file) => file && take(file.name, new Uint8Array(await file.arrayBuffer()));
  input.addEventListener('change', async () => {
    const [file] = input.files;
    await read(file);
    input.value = ''; // so that the same file can be chosen again
  });
  root.addEventListener('dragover', (event) => {
    if (!event.dataTransfer.types.includes('Files')) return;
    event.preventDefault();
    root.dataset.dropping = '';
  });
  root.addEventListener('dragleave', (event) => event.relatedTarget ?? delete root.dataset.dropping);
  root.addEventListener('drop', (event) => {
    event.preventDefault();
    delete root.dataset.dropping;
    read(event.dataTransfer.files[0]);
  });
}
