/** Hands the person a file through the browser's own download. */
export function download(name: string, mediaType: string, content: string | Uint8Array<ArrayBuffer>): void {
  const url = URL.createObjectURL(new Blob([content], { type: mediaType }));
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
}

/** A file name from a title: letters, digits and dashes, never empty. */
export function fileName(title: string, ending: string): string {
  const plain = title
    .normalize('NFKD')
    .replaceAll(/[^\p{L}\p{N}]+/gu, '-')
    .replaceAll(/^-+|-+$/g, '')
    .slice(0, 60)
    .toLowerCase();
  return `${plain || 'plan'}${ending}`;
}
