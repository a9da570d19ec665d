/// The bytes of a file as the shop's machine takes them.
export const asBase64 = (file: Blob): Promise<string> =>
  new Promise((done, failed) => {
    const reader = new FileReader();
    reader.onload = () => done(String(reader.result).replace(/^[^,]*,/, ""));
    reader.onerror = () => failed(reader.error ?? new Error("unreadable"));
    reader.readAsDataURL(file);
  });
