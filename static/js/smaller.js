// A photo that goes with a form is made smaller as soon as it is chosen; sent before that, it goes as it is.
"use strict";

document.querySelectorAll('input[type="file"][accept="image/*"]').forEach((input) => {
  input.addEventListener("change", async () => {
    const file = input.files[0];
    if (!file) return;
    const { bytes, type } = await shrink(file, document.createElement("canvas"));
    if (input.files[0] !== file || bytes.byteLength >= file.size) return;
    const box = new DataTransfer();
    box.items.add(new File([bytes], file.name.replace(/\.\w+$/, ".jpg"), { type }));
    input.files = box.files;
  });
});
