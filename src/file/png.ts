/** One chunk of a PNG: its four-letter name, where it starts, where its data is, and where the next chunk starts. */
export interface Chunk {
  readonly name: string;
  readonly start: number;
  readonly content: number;
  readonly end: number;
}

const signature = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];

/** The chunks of a PNG in order (PNG, third edition, 5.3); null when it is none. */
export function listChunks(bytes: Uint8Array): Chunk[] | null {
  if (!signature.every((byte, k) => bytes[k] === byte)) return null;
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const chunks: Chunk[] = [];
  for (let at = 8; at + 12 <= bytes.length;) {
    const end = at + 12 + view.getUint32(at);
    if (end > bytes.length) break;
    const name = String.fromCharCode(...bytes.subarray(at + 4, at + 8));
    chunks.push({ name, start: at, content: at + 8, end });
    at = end;
  }
  return chunks;
}

/**
 * CRC-32 of bytes (PNG, third edition, annex D).
 * @example computeCrc(Uint8Array.of(73, 69, 78, 68)) // 2923585666
 */
export function computeCrc(bytes: Uint8Array): number {
  let crc = 0xffffffff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit++) crc = crc & 1 ? (crc >>> 1) ^ 0xedb88320 : crc >>> 1;
  }
  return ~crc >>> 0;
}

/** A chunk with its length and CRC. */
export function writeChunk(name: string, content: Uint8Array): Uint8Array {
  const bytes = new Uint8Array(12 + content.length);
  const view = new DataView(bytes.buffer);
  view.setUint32(0, content.length);
  bytes.set(
    [...name].map((letter) => letter.charCodeAt(0)),
    4,
  );
  bytes.set(content, 8);
  view.setUint32(8 + content.length, computeCrc(bytes.subarray(4, 8 + content.length)));
  return bytes;
}
