/* Shows the answers of every place while the weight is moved; they came with the page. */
"use strict";
(() => {
  const box = document.getElementById("answers");
  const slider = document.getElementById("f-station");
  if (!box || !slider) return;
  const all = JSON.parse(box.dataset.answers);
  const scale = Number(box.dataset.scale);
  const figure = document.getElementById("along");
  const length = Number(figure.dataset.length);
  const hung = document.getElementById("hung");
  const cells = (name) => box.querySelectorAll(`[data-${name}]`);
  // What rounds to nothing has no minus.
  const written = (value, places) => (Number(value.toFixed(places)) + 0).toFixed(places);
  // How much something differs; a plain 0 where the figures shown do not, as the page came.
  const differing = (value, places, plus) => {
    const text = written(value, places);
    return Number(text) === 0 ? "0" : (text.startsWith("-") ? "" : plus) + text;
  };

  const show = (n) => {
    document.getElementById("place").textContent = all.along[n].toFixed(2);
    document.querySelector("[data-carried]").value = `${all.along[n].toFixed(3)} m`;
    cells("load").forEach((cell, i) => { cell.textContent = written(all.loads[n][i], 2); });
    cells("difference").forEach((cell, i) => { cell.textContent = differing(all.more[n][i], 2, "+"); });
    cells("bar").forEach((bar, i) => {
      const more = all.more[n][i];
      const tall = Math.min(Math.abs(more) * scale, 88);
      bar.setAttribute("class", more < 0 ? "less" : "more");
      bar.setAttribute("height", tall);
      bar.setAttribute("y", more < 0 ? 122 : 118 - tall);
    });
    hung.setAttribute("transform", `translate(${20 + 960 * all.along[n] / length} 0)`);
    cells("sink").forEach((cell, i) => { cell.textContent = differing(all.sinks[n][i], 1, ""); });
    cells("use").forEach((cell, i) => { if (all.uses[n][i] !== null) cell.textContent = all.uses[n][i]; });
    for (const name of ["over", "over-words"]) {
      cells(name).forEach((mark, i) => { mark.hidden = all.uses[n][i] === null || all.uses[n][i] <= 100; });
    }
    document.getElementById("changed").textContent = all.changed[n].join(", ");
    document.getElementById("changed-words").hidden = all.changed[n].length === 0;
  };
  slider.addEventListener("input", () => show(Number(slider.value)));

  const drawing = figure.querySelector("svg");
  const drag = (event) => {
    const room = drawing.getBoundingClientRect();
    const x = (event.clientX - room.left) / room.width * 1000;
    const along = (x - 20) / 960 * length;
    const apart = all.along.map((place) => Math.abs(place - along));
    slider.value = apart.indexOf(Math.min(...apart));
    show(Number(slider.value));
  };
  drawing.addEventListener("pointerdown", (event) => { drawing.setPointerCapture(event.pointerId); drag(event); });
  drawing.addEventListener("pointermove", (event) => { if (event.buttons) drag(event); });
  slider.form.addEventListener("submit", () => {
    const typed = slider.form.elements.namedItem("along");
    if (!typed.value) typed.disabled = true;
  });
})();
