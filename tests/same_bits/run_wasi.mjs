// node run_wasi.mjs PROGRAM.wasm [ARGUMENT...]: runs the program with this process's standard input and output. One run
// a process: node 20 aborts now and then where several in one process have files of their own.
import { readFileSync } from 'node:fs';
import { basename } from 'node:path';
import { WASI } from 'node:wasi';

const [program, ...rest] = process.argv.slice(2);
const wasi = new WASI({ version: 'preview1', args: [basename(program), ...rest], returnOnExit: true });
const instance = new WebAssembly.Instance(new WebAssembly.Module(readFileSync(program)),
  { wasi_snapshot_preview1: wasi.wasiImport });
process.exitCode = wasi.start(instance);
