// Links that open messages or mail carry the words as they are typed now, not as they were drafted.
"use strict";

const typed = document.getElementById("id_words");
const about = document.getElementById("id_subject");

function carry() {
  document.querySelectorAll("a[data-opens]").forEach((link) => {
    const isMail = link.dataset.opens === "mail";
    const words = isMail ? typed.value.replaceAll("\n", "\r\n") : typed.value;
    let href = link.getAttribute("href").replace(/body=.*$/, `body=${encodeURIComponent(words)}`);
    if (isMail) href = href.replace(/subject=[^&]*/, `subject=${encodeURIComponent(about.value)}`);
    link.setAttribute("href", href);
  });
}
document.addEventListener("input", (event) => {
  if (event.target === typed || event.target === about) carry();
});
// Enter in the line above the words is no tap on “Mail it”.
about?.addEventListener("keydown", (event) => {
  if (event.key === "Enter") event.preventDefault();
});
