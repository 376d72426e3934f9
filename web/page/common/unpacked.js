// Files that travel inside the page's own file, packed.

/**
 * The address of an unpacked copy, which lasts as long as the page.
 * @param {string} packed gzip, in base 64 @param {string} type its media type
 */
export async function unpacked(packed, type) {
  const bytes = Uint8Array.from(atob(packed), (letter) => letter.charCodeAt(0));
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream('gzip'));
  const whole = await new Response(stream).blob();
  return URL.createObjectURL(new Blob([whole], { type }));
}
