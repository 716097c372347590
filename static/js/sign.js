// A pad to sign on with a finger or a mouse. The name typed above it is enough without.
"use strict";

document.querySelectorAll("[data-pad]").forEach((pad) => {
  const canvas = pad.querySelector("canvas");
  const kept = document.getElementById(pad.dataset.pad);
  const pen = canvas.getContext("2d");
  const MOST = 3000;
  let lines = [];
  let points = 0;
  pad.hidden = false;
  pen.lineWidth = 5;
  pen.lineCap = pen.lineJoin = "round";
  pen.strokeStyle = getComputedStyle(pad).color;

  const at = (event) => {
    const place = canvas.getBoundingClientRect();
    const scale = canvas.width / place.width;
    const whole = (length, most) => Math.min(most, Math.max(0, Math.round(length * scale)));
    return [whole(event.clientX - place.left, canvas.width), whole(event.clientY - place.top, canvas.height)];
  };
  const keep = () => { kept.value = lines.length ? JSON.stringify(lines) : ""; };

  canvas.addEventListener("pointerdown", (event) => {
    canvas.setPointerCapture(event.pointerId);
    const [x, y] = at(event);
    lines.push([x, y]);
    pen.beginPath();
    pen.moveTo(x, y);
  });
  canvas.addEventListener("pointermove", (event) => {
    if (!canvas.hasPointerCapture(event.pointerId) || points > MOST) return;
    const [x, y] = at(event);
    lines.at(-1).push(x, y);
    points += 1;
    pen.lineTo(x, y);
    pen.stroke();
  });
  canvas.addEventListener("pointerup", keep);
  pad.querySelector("button").addEventListener("click", () => {
    lines = [];
    points = 0;
    pen.clearRect(0, 0, canvas.width, canvas.height);
    keep();
  });
});
