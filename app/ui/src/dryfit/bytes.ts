// Numbers that come as base64 of their little-endian bytes.

function bytes(text: string): ArrayBuffer {
  const s = atob(text);
  const out = new Uint8Array(s.length);
  for (let i = 0; i < s.length; i++) out[i] = s.charCodeAt(i);
  return out.buffer;
}

export function floats(text: string): Float32Array {
  return new Float32Array(bytes(text));
}

export function whole(text: string): Uint32Array {
  return new Uint32Array(bytes(text));
}
