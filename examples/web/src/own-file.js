// A person's own character, chosen or dropped. It is read by the page and sent nowhere.

// takeFiles calls take with the name of a file and what promises its bytes.
export function takeFiles(root, input, take) {
  const read = (file) => file && take(file.name, () => file.arrayBuffer());
  input.addEventListener('change', async () => {
    const [file] = input.files;
    await read(file);
    input.value = ''; // so that the same file can be chosen again
  });
  const holdsFiles = (event) => event.dataTransfer.types.includes('Files');
  root.addEventListener('dragover', (event) => {
    if (!holdsFiles(event)) return;
    event.preventDefault();
    root.dataset.dropping = '';
  });
  root.addEventListener('dragleave', (event) => event.relatedTarget ?? delete root.dataset.dropping);
  root.addEventListener('drop', (event) => {
    delete root.dataset.dropping;
    if (!holdsFiles(event)) return;
    event.preventDefault();
    read(event.dataTransfer.files[0]);
  });
}
