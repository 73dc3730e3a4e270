/** Lets the browser save a CSV text under the name of the station's file. */
export function saveFile(stationFile: string, text: string): void {
  const address = URL.createObjectURL(new Blob([text], { type: 'text/csv;charset=utf-8' }));
  const link = document.createElement('a');
  link.href = address;
  link.download = stationFile.split(/[\\/]/).at(-1) ?? 'certificate.csv';
  link.click();
  URL.revokeObjectURL(address);
}
