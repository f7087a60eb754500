// node run_wasi.mjs PROGRAM.wasm OUT [ARGUMENT] -- FILE...: runs the program once for each file, the file as its
// standard input, and writes its standard output to OUT/NAME-OF-FILE.
import { closeSync, mkdirSync, openSync, readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { WASI } from 'node:wasi';

const [program, out, ...rest] = process.argv.slice(2);
const dashes = rest.indexOf('--');
const module = new WebAssembly.Module(readFileSync(program));
mkdirSync(out, { recursive: true });
let failed = 0;
for (const file of rest.slice(dashes + 1)) {
  const stdin = openSync(file, 'r');
  const stdout = openSync(join(out, basename(file)), 'w');
  const wasi = new WASI({
    version: 'preview1', args: [basename(program), ...rest.slice(0, dashes)], stdin, stdout, returnOnExit: true,
  });
  const instance = new WebAssembly.Instance(module, { wasi_snapshot_preview1: wasi.wasiImport });
  const code = wasi.start(instance);
  if (code) {
    console.error(`${basename(program)}: ${code} on ${file}`);
    failed = 1;
  }
  closeSync(stdin);
  closeSync(stdout);
}
process.exitCode = failed;
