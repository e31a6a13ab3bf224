/**
 * Saves something that the page holds as a file.
 *
 * @example
 * downloadBlob(new Blob([text], { type: 'application/json' }), 'R-00012-rev-3.process.json');
 */
export function downloadBlob(blob: Blob, name: string): void {
  const address = URL.createObjectURL(blob);
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 1000);
}
