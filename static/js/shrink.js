// A picture is made smaller on the phone before it is kept or sent. One that cannot be opened here goes as it is.
"use strict";

const LONGEST = 2048;
const QUALITY = 0.85;

// Return the bytes to send, and draw the picture where it can be seen.
async function shrink(file, canvas) {
  const whole = { bytes: await file.arrayBuffer(), type: file.type || "image/jpeg", isDrawn: false };
  let picture;
  try {
    picture = await createImageBitmap(file, { imageOrientation: "from-image" });
  } catch {
    return whole;
  }
  draw(picture, canvas);
  picture.close();
  const blob = await new Promise((done) => { canvas.toBlob(done, "image/jpeg", QUALITY); });
  if (!blob || blob.size >= whole.bytes.byteLength) return { ...whole, isDrawn: true };
  return { bytes: await blob.arrayBuffer(), type: "image/jpeg", isDrawn: true };
}

function draw(picture, canvas) {
  const scale = Math.min(1, LONGEST / Math.max(picture.width, picture.height));
  canvas.width = Math.max(1, Math.round(picture.width * scale));
  canvas.height = Math.max(1, Math.round(picture.height * scale));
  canvas.getContext("2d").drawImage(picture, 0, 0, canvas.width, canvas.height);
}
