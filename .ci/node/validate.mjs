// validate.mjs DIR: runs Khronos' glTF validator over every .glb and .gltf in
// DIR. No file may have an error. A file X.split.glb (or X-split.glb, or .gltf)
// may have no warning of a kind that its source X.glb or X.gltf has fewer of;
// every other file may have none at all.
import { readFile, readdir } from 'node:fs/promises';
import { join } from 'node:path';
import validator from 'gltf-validator';

const ERROR = 0;
const WARNING = 1;

const folder = process.argv[2];
if (!folder) {
  console.error('usage: node validate.mjs DIR');
  process.exit(2);
}
const names = (await readdir(folder)).filter((name) => /\.(glb|gltf)$/.test(name)).sort();
const reports = new Map();
for (const name of names) {
  reports.set(name, await validator.validateBytes(new Uint8Array(await readFile(join(folder, name))), {
    uri: name,
    maxIssues: 0,
    externalResourceFunction: async (uri) => new Uint8Array(await readFile(join(folder, decodeURIComponent(uri)))),
  }));
}

// Counts a report's warnings by code.
function warnings(report) {
  const counts = new Map();
  for (const { code, severity } of report?.issues.messages ?? []) {
    if (severity === WARNING) counts.set(code, (counts.get(code) ?? 0) + 1);
  }
  return counts;
}

let complaints = 0;
function complain(name, text, report, wanted) {
  complaints++;
  const example = report.issues.messages.find(wanted);
  console.log(`${name}: ${text}: ${example.message} (${example.pointer ?? `byte ${example.offset}`})`);
}

for (const [name, report] of reports) {
  const errors = report.issues.messages.filter(({ severity }) => severity === ERROR);
  if (errors.length > 0) {
    complain(name, `${errors.length} errors`, report, ({ severity }) => severity === ERROR);
  }
  const stem = name.match(/^(.*)[.-]split\.(glb|gltf)$/)?.[1];
  const source = ['glb', 'gltf'].map((form) => `${stem}.${form}`).find((other) => reports.has(other));
  const allowed = warnings(reports.get(source));
  for (const [code, count] of warnings(report)) {
    const before = allowed.get(code) ?? 0;
    if (count > before) {
      complain(name, `${count} times ${code}, ${source ?? 'expected'} ${before}`, report, (issue) => issue.code === code);
    }
  }
}
console.log(`validator ${validator.version()}: ${names.length} files, ${complaints} complaints`);
if (names.length === 0) console.log(`${folder} holds no files`);
process.exit(complaints > 0 || names.length === 0 ? 1 : 0);
