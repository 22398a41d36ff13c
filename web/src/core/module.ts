// The C++ core as a WebAssembly module: bytes of one request in, bytes of one answer out (docs/formats/call.md).

interface Exports {
  memory: WebAssembly.Memory;
  alloc(size: number): number;
  free(address: number): void;
  call(address: number, size: number): bigint;
  _initialize?(): void;
}

export type Core = (request: string) => string;

const badFile = 8; // WASI's number for "no such open file": the three file functions are named but never reached
const noFiles = { fd_close: () => badFile, fd_seek: () => badFile, fd_write: () => badFile };

export const loadCore = async (bytes: BufferSource): Promise<Core> => startModule(await WebAssembly.compile(bytes));

export async function startModule(module: WebAssembly.Module): Promise<Core> {
  const instance = await WebAssembly.instantiate(module, { wasi_snapshot_preview1: noFiles });
  const { memory, alloc, free, call, _initialize } = instance.exports as unknown as Exports;
  _initialize?.();
  const [encoder, decoder] = [new TextEncoder(), new TextDecoder()];
  return (request) => {
    const sent = encoder.encode(request);
    const at = alloc(sent.length);
    if (at === 0) throw new Error('the core has no memory left for the request');
    new Uint8Array(memory.buffer, at, sent.length).set(sent);
    const packed = BigInt.asUintN(64, call(at, sent.length));
    free(at);
    const [answerAt, length] = [Number(packed >> 32n), Number(packed & 0xffffffffn)];
    if (answerAt === 0) throw new Error('the core has no memory left for the answer');
    const answer = decoder.decode(new Uint8Array(memory.buffer, answerAt, length));
    free(answerAt);
    return answer;
  };
}
