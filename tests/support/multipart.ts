/**
 * A multipart/form-data request with one file in it, for `app.inject`.
 *
 * @example
 * await ask({ method: 'POST', url: '/api/files', ...multipart({ name: 'a.stl', content }) });
 */
export function multipart({
  field,
  name,
  content,
}: {
  name: string;
  content: Buffer | string;
  field?: string;
}) {
  const boundary = 'huelot-test-boundary';
  const head = `--${boundary}\r\ncontent-disposition: form-data; name="${field ?? 'file'}"; filename="${name.replaceAll('"', '%22')}"\r\ncontent-type: application/octet-stream\r\n\r\n`;
  return {
    headers: { 'content-type': `multipart/form-data; boundary=${boundary}` },
    payload: Buffer.concat([Buffer.from(head), Buffer.from(content), Buffer.from(`\r\n--${boundary}--\r\n`)]),
  };
}
