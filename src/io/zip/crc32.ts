const TABLE = new Uint32Array(256).map((_, byte) => {
  let rest = byte;
  for (let bit = 0; bit < 8; bit++) rest = rest & 1 ? 0xedb88320 ^ (rest >>> 1) : rest >>> 1;
  return rest;
});

/** CRC-32 as zip files carry it (ITU-T V.42, polynomial 04C11DB7 reflected), 0 to 2^32 - 1. */
export function crc32(bytes: Uint8Array): number {
  let rest = 0xffffffff;
  for (let i = 0; i < bytes.length; i++)
    rest = (TABLE[(rest ^ (bytes[i] as number)) & 0xff] as number) ^ (rest >>> 8);
  return (rest ^ 0xffffffff) >>> 0;
}
