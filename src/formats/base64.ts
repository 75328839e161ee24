const ALPHABET = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";

/** Bytes as base64 text with padding (RFC 4648 section 4): neither Node nor a page is there to do it. */
export function base64(bytes: Uint8Array): string {
  const groups: string[] = [];
  for (let i = 0; i < bytes.length; i += 3) {
    const group = ((bytes[i] ?? 0) << 16) | ((bytes[i + 1] ?? 0) << 8) | (bytes[i + 2] ?? 0);
    const letters = letter(group >> 18) + letter(group >> 12) + letter(group >> 6) + letter(group);
    const missing = i + 3 - bytes.length;
    groups.push(missing > 0 ? letters.slice(0, -missing) + "=".repeat(missing) : letters);
  }
  return groups.join("");
}

function letter(sixBits: number): string {
  return ALPHABET.charAt(sixBits & 63);
}
