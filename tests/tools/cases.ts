import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { runCaseFile } from '../../app/care/escalation/cases.ts';

/** Runs escalation case files from anywhere: `npm run cases -- <file or folder> …`. */
function jsonFiles(path: string): string[] {
  if (!statSync(path).isDirectory()) return [path];
  return readdirSync(path, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.json'))
    .sort()
    .map((name) => join(path, name));
}

let passed = 0;
let failed = 0;
const fail = (line: string): void => {
  failed += 1;
  console.log(line.replaceAll('\n', ' '));
};

const paths = process.argv.slice(2);
if (paths.length === 0) {
  console.error('Name a case file or a folder of them, for example: npm run cases -- tests/cases');
  process.exit(1);
}
for (const path of paths) {
  let files: string[] = [];
  try {
    files = jsonFiles(path);
    if (files.length === 0) fail(`${path}: no .json file in this folder`);
  } catch {
    fail(`${path}: no such file or folder`);
  }
  for (const file of files) {
    let content: unknown;
    try {
      content = JSON.parse(readFileSync(file, 'utf8'));
    } catch (error) {
      fail(`${file}: not readable as JSON: ${(error as Error).message}`);
      continue;
    }
    for (const result of runCaseFile(content)) {
      if (result.problems.length === 0) passed += 1;
      else fail(`${file}: ${result.name}: ${result.problems.join('; ')}`);
    }
  }
}
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed > 0 ? 1 : 0);
