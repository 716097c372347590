// Show the photo that was just taken, before it is sent. Without this script it is sent all the same.
"use strict";

const input = document.getElementById("id_photo");
const canvas = document.getElementById("preview");
const words = document.getElementById("photo-said");

input.addEventListener("change", async () => {
  const file = input.files[0];
  canvas.hidden = true;
  words.hidden = !file;
  if (!file) return;
  words.textContent = "Photo taken. Tap it to take another.";
  try {
    draw(await createImageBitmap(file, { imageOrientation: "from-image" }));
    canvas.hidden = false;
  } catch {
    words.textContent = "Photo taken. This browser cannot show it before it is sent.";
  }
});

function draw(picture) {
  const longer = Math.max(picture.width, picture.height);
  const scale = Math.min(1, 1600 / longer);
  canvas.width = Math.round(picture.width * scale);
  canvas.height = Math.round(picture.height * scale);
  canvas.getContext("2d").drawImage(picture, 0, 0, canvas.width, canvas.height);
}
