/// The bytes of a file as the shop's machine takes them.
export const asBase64 = (file: File): Promise<string> =>
  new Promise((done, failed) => {
    const reader = new FileReader();
    reader.onload = () => done(String(reader.result).replace(/^[^,]*,/, ""));
    reader.onerror = () => failed(reader.error ?? new Error(file.name));
    reader.readAsDataURL(file);
  });
