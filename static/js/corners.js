// The corners of what is measured, dragged on the photo; the number fields below hold the same, with or without.
"use strict";

const CORNERS = { tl: "top left", tr: "top right", br: "bottom right", bl: "bottom left" };

document.querySelectorAll("fieldset[data-quad]").forEach((fields) => {
  const quad = fields.dataset.quad;
  const words = fields.querySelector("legend").textContent;
  const field = (corner, axis) => fields.querySelector(`[name="${quad}_${corner}_${axis}"]`);
  for (const [corner, where] of Object.entries(CORNERS)) {
    addHandle({
      name: `${words}, ${where} corner`,
      kind: quad,
      at: () => [Number(field(corner, "x").value), Number(field(corner, "y").value)],
      move: (x, y) => {
        field(corner, "x").value = x.toFixed(2);
        field(corner, "y").value = y.toFixed(2);
      },
    });
  }
  const polygon = stage.querySelector(`[data-draws="${quad}"]`);
  const draw = () => {
    const points = Object.keys(CORNERS).map((corner) => `${field(corner, "x").value},${field(corner, "y").value}`);
    polygon.setAttribute("points", points.join(" "));
  };
  document.addEventListener("handles:moved", draw);
  fields.addEventListener("input", () => document.dispatchEvent(new CustomEvent("handles:moved")));
});

stage.classList.add("live");
document.querySelector("[data-drag-words]").hidden = false;
const byNumber = document.querySelector(".by-number");
byNumber.open = byNumber.querySelector(".fault") !== null;
