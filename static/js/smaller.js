// Photos that go with a form are made smaller as soon as they are chosen; sent before that, they go as they are.
"use strict";

async function smaller(file) {
  const { bytes, type } = await shrink(file, document.createElement("canvas"));
  if (bytes.byteLength >= file.size) return file;
  return new File([bytes], file.name.replace(/\.\w+$/, ".jpg"), { type });
}

document.querySelectorAll('input[type="file"][accept="image/*"]').forEach((input) => {
  input.addEventListener("change", async () => {
    const chosen = [...input.files];
    const box = new DataTransfer();
    for (const file of chosen) box.items.add(await smaller(file));
    if (chosen.length && chosen.every((file, at) => input.files[at] === file)) input.files = box.files;
  });
});
