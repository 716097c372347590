// Lines of the log wait on this phone until the shop’s computer has them; they survive a reload.
// A line: id, at (where it is sent), number, fields, photo (bytes), type, state, fault, said, address, kept.
// The photo of a pile is a line without fields. States: held, until its bag came in; draft, not yet given; waiting, its taps are not sent; photo, only its photo is not;
// refused, with its fault; told, its tag has to be written anew.
"use strict";

const phone = (() => {
  let opened;

  function open() {
    opened ??= new Promise((done, fail) => {
      const asked = indexedDB.open("bag-log", 1);
      asked.onupgradeneeded = () => { asked.result.createObjectStore("lines", { keyPath: "id" }); };
      asked.onsuccess = () => done(asked.result);
      asked.onerror = () => fail(asked.error);
    });
    return opened;
  }

  async function act(mode, what) {
    const shelf = (await open()).transaction("lines", mode);
    const asked = what(shelf.objectStore("lines"));
    return new Promise((done, fail) => {
      shelf.oncomplete = () => done(asked.result);
      shelf.onabort = shelf.onerror = () => fail(shelf.error);
    });
  }

  return {
    open,
    keep: (line) => act("readwrite", (lines) => lines.put(line)),
    drop: (id) => act("readwrite", (lines) => lines.delete(id)),
    async lines() {
      const found = await act("readonly", (lines) => lines.getAll());
      return found.sort((one, other) => one.kept - other.kept);
    },
  };
})();

// Random enough for one shop, and there without https too.
function randomId() {
  const parts = crypto.getRandomValues(new Uint32Array(4));
  return [...parts].map((part) => part.toString(16).padStart(8, "0")).join("-");
}
