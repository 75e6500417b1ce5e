"use strict";
(() => {
  const shown = (v) => {
    const a = Math.abs(v);
    if (v !== 0 && (a >= 1e6 || a < 1e-3)) return v.toExponential(2).replace("-", "\u2212");
    const d = Math.max(0, 2 - Math.floor(Math.log10(a || 1)));
    return v.toFixed(Math.min(d, 6)).replace("-", "\u2212").replace(/\B(?=(\d{3})+(?!\d)(?=\.|$))/g, "\u202f");
  };
  const number = (text) => {
    const m = text.replace(/[\u202f\u00a0\u2009 ]/g, "").replace("\u2212", "-").match(/^[^\d-]*(-?\d+(?:\.\d+)?)/);
    return m ? parseFloat(m[1]) : NaN;
  };
  for (const table of document.querySelectorAll("table.sort")) {
    table.querySelectorAll("thead th").forEach((th, column) => {
      const button = document.createElement("button");
      button.type = "button";
      button.title = "Sort by this column";
      button.append(...th.childNodes);
      th.append(button);
      button.addEventListener("click", () => {
        const down = th.getAttribute("aria-sort") === "ascending";
        table.querySelectorAll("th").forEach((h) => h.removeAttribute("aria-sort"));
        th.setAttribute("aria-sort", down ? "descending" : "ascending");
        const body = table.tBodies[0], text = (r) => r.cells[column].textContent;
        const rows = [...body.rows], numeric = rows.some((r) => !isNaN(number(text(r)))) && th.classList.contains("n");
        rows.sort((a, b) => numeric ? ((isNaN(number(text(a))) ? Infinity : number(text(a))) - (isNaN(number(text(b))) ? Infinity : number(text(b)))) : text(a).localeCompare(text(b)));
        if (down) rows.reverse();
        body.append(...rows);
      });
    });
  }
  for (const section of document.querySelectorAll(".sec")) {
    const figures = [...section.querySelectorAll("[data-group]")], names = [...new Set(figures.map((f) => f.dataset.group))];
    if (names.length < 2) continue;
    const bar = document.createElement("div");
    bar.className = "switch";
    bar.setAttribute("role", "group");
    bar.setAttribute("aria-label", "Response shown");
    for (const name of ["all", ...names]) {
      const button = document.createElement("button");
      button.type = "button";
      button.textContent = name;
      button.setAttribute("aria-pressed", String(name === "all"));
      button.addEventListener("click", () => {
        bar.querySelectorAll("button").forEach((b) => b.setAttribute("aria-pressed", String(b === button)));
        figures.forEach((f) => { f.hidden = name !== "all" && f.dataset.group !== name; });
      });
      bar.append(button);
    }
    section.insertBefore(bar, figures[0]);
  }
  for (const svg of document.querySelectorAll("svg[data-plot]")) {
    const [left, top, right, bottom] = svg.dataset.plot.split(" ").map(Number), out = svg.closest("figure").querySelector(".readout");
    const value = (ends, share) => {
      const [a, b, scale] = ends.split(" "), from = +a, to = +b;
      return scale === "log" ? from * Math.pow(to / from, share) : from + share * (to - from);
    };
    const say = (axis, share) => axis ? shown(value(axis, share)) : null;
    svg.addEventListener("pointermove", (e) => {
      const box = svg.getBoundingClientRect(), width = svg.viewBox.baseVal.width, x = (e.clientX - box.left) / box.width * width, y = (e.clientY - box.top) / box.width * width;
      const inside = x >= left && x <= right && y >= top && y <= bottom;
      const across = say(svg.dataset.x, (x - left) / (right - left)), upward = say(svg.dataset.y, (bottom - y) / (bottom - top));
      out.textContent = !inside ? "" : [across && `across ${across} ${svg.dataset.xunit || ""}`, upward && `upwards ${upward} ${svg.dataset.yunit || ""}`].filter(Boolean).join(", ");
    });
    svg.addEventListener("pointerleave", () => { out.textContent = ""; });
  }
})();
