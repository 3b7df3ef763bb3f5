// Makes the page's pictures live: reads values under the pointer, hides and shows curves, looks closer, switches units.
// Without it the page is complete. It knows no physics and no rounding: texts come in every unit from the page itself.
(function () {
  "use strict";
  const read = (element) => JSON.parse(element.textContent);
  const units = read(document.getElementById("units"));
  const style = (name) => getComputedStyle(document.documentElement).getPropertyValue(name).trim();
  const dashes = { line: [], dashed: [8, 4], dotted: [2.5, 3.5], points: [], rings: [] };
  const font = "12px system-ui, 'Segoe UI', 'DejaVu Sans', sans-serif";
  let unit = units[0];
  const plots = [];

  // ---- numbers ------------------------------------------------------------------------------------------------------
  const scaleOf = (axis) => (axis.of === "vacuum" ? unit.si : axis.si || 1);
  const unitOf = (axis) => (axis.of === "vacuum" ? unit.symbol : axis.unit || "");
  function shown(axis, si) {
    if (si === null || si === undefined) return "-";
    if (axis.of === "place") return axis.places[Math.min(axis.places.length - 1, Math.max(0, Math.floor(si)))];
    const value = si / scaleOf(axis);
    const digits = axis.of === "vacuum" ? unit.decimals : Math.max(0, 3 - Math.ceil(Math.log10(Math.abs(axis.top / scaleOf(axis)) || 1)));
    return value.toFixed(digits) + (unitOf(axis) ? " " + unitOf(axis) : "");
  }

  // ---- texts ----------------------------------------------------------------------------------------------------------
  const ruler = document.createElement("canvas").getContext("2d");
  /** The text where it is at most that many pixels wide, else without its middle: names differ at both ends. */
  function fitted(text, width) {
    ruler.font = font;
    const all = Array.from(text);
    let shown = text;
    for (let room = all.length - 1; room > 2 && ruler.measureText(shown).width > width; --room) {
      const tail = Math.floor(room * 2 / 5);
      shown = all.slice(0, room - tail).join("") + "\u2026" + all.slice(all.length - tail).join("");
    }
    return shown;
  }

  // ---- one plot -----------------------------------------------------------------------------------------------------
  /** All series on one x axis: [x, y of each]. A band adds its two edges behind the curves. Where a series has several
   *  points at one x, as readings of one gauge, the axis has that x as often: the library's own join keeps one of them. */
  function table(plot) {
    const tables = plot.series.map((s) => [s.x, s.y]), often = new Map();
    plot.series.forEach((s) => { if (s.low) tables.push([s.x, s.low], [s.x, s.high]); });
    tables.forEach(([x]) => {
      for (let k = 0, n = 0; k < x.length; ++k) {
        n = k > 0 && x[k] === x[k - 1] ? n + 1 : 1;
        often.set(x[k], Math.max(n, often.get(x[k]) || 0));
      }
    });
    const all = [...often.keys()].sort((a, b) => a - b).flatMap((x) => Array(often.get(x)).fill(x));
    return [all].concat(tables.map(([x, y]) => { let k = 0; return all.map((at) => x[k] === at ? y[k++] : undefined); }));
  }

  function seriesOptions(plot) {
    const dots = (s) => s.stroke === "points" || s.stroke === "rings";
    const options = [{}].concat(plot.series.map((s) => ({
      label: s.name,
      stroke: () => style("--c" + s.colour),
      width: dots(s) ? 0 : 2.2,
      dash: dashes[s.stroke],
      spanGaps: true,
      paths: dots(s) ? () => null : undefined,
      points: dots(s)
        ? { show: true, size: s.stroke === "rings" ? 11 : 9, width: 2, stroke: () => style("--c" + s.colour), fill: () => s.stroke === "rings" ? style("--paper") : style("--c" + s.colour) }
        : { show: false },
    })));
    const bands = [];
    plot.series.forEach((s) => {
      if (!s.low) return;
      const at = options.length;
      const edge = { stroke: "transparent", width: 0, spanGaps: true, points: { show: false } };
      options.push(edge, Object.assign({}, edge));
      bands.push({ series: [at + 1, at], fill: () => style("--c" + s.colour) + "2a" });
    });
    return { options, bands };
  }

  function axisOptions(axis, side, narrow, width) {
    const place = axis.of === "place";
    let names = axis.places;
    const options = {
      side, font, labelFont: font, labelSize: 18, stroke: () => style("--soft"),
      grid: { stroke: () => style("--grid"), width: 1 }, ticks: { stroke: () => style("--soft"), width: 1, size: 4 },
      values: (u, splits) => splits.map((v) => place ? names[v - 0.5] || "" : String(+(v / scaleOf(axis)).toPrecision(6))),
    };
    if (place) {
      options.splits = () => axis.places.map((p, i) => i + 0.5);
      options.rotate = axis.places.some((p) => p.length * 6.8 > width / axis.places.length) ? 50 : 0;
      options.size = options.rotate ? 84 : 40;
      // Turned, a name runs down through that height; what is longer would lose its beginning at the edge.
      if (options.rotate) names = axis.places.map((p) => fitted(p, (options.size - 18) / Math.sin(options.rotate * Math.PI / 180)));
      options.grid.show = false;
    } else {
      options.size = side === 3 ? 52 : 40;
      options.label = axis.label + (unitOf(axis) ? ", " + unitOf(axis) : "");
      // Round steps in the unit that is shown.
      options.splits = (u, i, low, high) => {
        const s = scaleOf(axis), span = (high - low) / s;
        const least = span / (side === 3 ? 6 : narrow ? 4 : 8), power = Math.pow(10, Math.floor(Math.log10(least)));
        const step = [1, 2, 5, 10].map((f) => f * power).find((f) => f >= least * (1 - 1e-9));
        const all = [];
        for (let k = Math.ceil(low / s / step - 1e-9); k * step <= high / s + 1e-9 * span; ++k) all.push(k * step * s);
        return all;
      };
    }
    return options;
  }

  /** Marks, levels and numbers, which the library does not draw. */
  function extras(plot) {
    return (u) => {
      const c = u.ctx, ratio = devicePixelRatio, left = u.bbox.left, top = u.bbox.top, right = left + u.bbox.width, bottom = top + u.bbox.height;
      c.save();
      c.beginPath();
      c.rect(left, 0, u.bbox.width, bottom);
      c.clip();
      c.font = 11 * ratio + "px system-ui, 'Segoe UI', 'DejaVu Sans', sans-serif";
      c.lineWidth = 1.2 * ratio;
      c.strokeStyle = c.fillStyle = style("--soft");
      c.textBaseline = "bottom";
      plot.levels.forEach((level) => {
        const y = u.valToPos(level.at, "y", true);
        c.setLineDash([8 * ratio, 4 * ratio]);
        c.beginPath(); c.moveTo(left, y); c.lineTo(right, y); c.stroke();
        c.textAlign = "right";
        c.fillText(fitted(level.text, u.bbox.width / ratio - 8), right - 4 * ratio, y - 2 * ratio);
      });
      plot.marks.forEach((mark, k) => {
        const x = u.valToPos(mark.at, "x", true), y = top - (4 + 15 * (plot.marks.length - 1 - k)) * ratio;
        c.setLineDash([2 * ratio, 3 * ratio]);
        c.beginPath(); c.moveTo(x, y - 8 * ratio); c.lineTo(x, bottom); c.stroke();
        const fits = x + c.measureText(mark.text).width + 8 * ratio < right;
        c.textAlign = fits ? "left" : "right";
        c.fillText(mark.text, x + (fits ? 5 : -5) * ratio, y);
      });
      c.setLineDash([]);
      c.fillStyle = style("--c2");
      c.textAlign = "left";
      const taken = [];
      plot.notes.forEach((note) => {
        const text = (note.pa > 0 ? "+" : "") + (note.pa / unit.si).toFixed(unit.decimals), size = c.measureText(text).width;
        const from = u.valToPos(note.x, "x", true), fits = from + 3 * ratio + size <= right;
        const x = from + (fits ? 3 * ratio : -3 * ratio - size), y = u.valToPos(note.y, "y", true), high = 13 * ratio;
        if (+text === 0 || taken.some((t) => x < t.x + t.size && t.x < x + size && Math.abs(t.y - y) < high)) return;
        taken.push({ x, y, size });
        c.strokeStyle = style("--paper");
        c.lineWidth = 3 * ratio;
        c.strokeText(text, x, y);
        c.fillText(text, x, y);
      });
      c.restore();
    };
  }

  function sample(s) {
    const svg = document.createElementNS("http://www.w3.org/2000/svg", "svg");
    svg.setAttribute("width", "26"); svg.setAttribute("height", "12"); svg.setAttribute("aria-hidden", "true");
    const round = s.stroke === "points" || s.stroke === "rings";
    const mark = document.createElementNS(svg.namespaceURI, round ? "circle" : "path");
    if (round) { mark.setAttribute("cx", "13"); mark.setAttribute("cy", "6"); mark.setAttribute("r", "4.5"); }
    else mark.setAttribute("d", "M1 6H25");
    mark.setAttribute("class", (s.stroke === "points" ? "point" : s.stroke === "rings" ? "ring" : "curve " + s.stroke) + " c" + s.colour);
    svg.appendChild(mark);
    return svg;
  }

  const made = (tag, parent, text) => {
    const element = document.createElement(tag);
    if (text) element.textContent = text;
    parent.appendChild(element);
    return element;
  };

  function enliven(figure) {
    const plot = read(figure.querySelector("script[type='application/json']"));
    const live = figure.querySelector(".live"), still = figure.querySelector(".still");
    const keys = made("ul", live), at = made("p", live), box = made("div", live), looks = made("div", live);
    keys.className = "keys"; at.className = "at"; box.className = "plot"; looks.className = "looks";
    at.setAttribute("aria-live", "polite");
    box.tabIndex = 0;
    box.setAttribute("role", "group");
    box.setAttribute("aria-roledescription", "plot");
    box.setAttribute("aria-label", figure.querySelector("h3").textContent + ". " + figure.querySelector("desc").textContent);
    const readouts = plot.series.map((s, i) => {
      const button = made("button", made("li", keys));
      button.type = "button";
      button.setAttribute("aria-pressed", "true");
      button.appendChild(sample(s));
      made("span", button, s.name);
      button.addEventListener("click", () => {
        const on = button.getAttribute("aria-pressed") !== "true";
        button.setAttribute("aria-pressed", String(on));
        state.hidden[i] = !on;
        state.u.setSeries(i + 1, { show: on });
      });
      return made("output", button);
    });
    const state = { figure, plot, u: null, hidden: [] };
    const whole = { x: [plot.x.bottom, plot.x.top], y: [plot.y.bottom, plot.y.top] };

    function say(u) {
      const i = u.cursor.idx;
      const x = i === null || i === undefined ? null : u.data[0][i];
      at.textContent = x === null ? "Point at the picture to read it." : (plot.x.label || "at") + " " + shown(plot.x, x);
      plot.series.forEach((s, k) => {
        readouts[k].textContent = x === null ? "" : nearest(s, x).map((y) => shown(plot.y, y)).join(", ") || "-";
      });
    }
    /** The series' values at x: between its own points one on a straight line, of lone points all at the nearest x, far
     *  from any none. */
    function nearest(s, x) {
      const lone = s.stroke === "points" || s.stroke === "rings";
      const grain = 1e-9 * (plot.x.top - plot.x.bottom);  // curves that end together may differ in the last digit
      const reach = plot.x.of === "place" ? 0.35 : 0.015 * (plot.x.top - plot.x.bottom);
      if (lone) {
        const away = Math.min(...s.x.map((at) => Math.abs(at - x)));
        return away < reach ? s.y.filter((y, k) => Math.abs(s.x[k] - x) <= away + grain) : [];
      }
      for (let k = 0; k < s.x.length; ++k) {
        if (Math.abs(s.x[k] - x) <= grain) return [s.y[k]];
        if (k > 0 && s.x[k - 1] < x && x < s.x[k] && s.y[k] !== null && s.y[k - 1] !== null)
          return [s.y[k - 1] + (x - s.x[k - 1]) / (s.x[k] - s.x[k - 1]) * (s.y[k] - s.y[k - 1])];
      }
      return [];
    }
    function closer(factor) {
      const u = state.u, low = u.scales.x.min, high = u.scales.x.max, i = u.cursor.idx;
      const middle = i === null || i === undefined ? 0.5 * (low + high) : u.data[0][i];
      const half = 0.5 * (high - low) * factor;
      if (2 * half >= whole.x[1] - whole.x[0]) { reset(); return; }
      const a = Math.min(Math.max(middle - half, whole.x[0]), whole.x[1] - 2 * half);
      u.setScale("x", { min: a, max: a + 2 * half });
    }
    const reset = () => state.u.setScale("x", { min: whole.x[0], max: whole.x[1] });

    state.draw = function () {
      const width = Math.max(200, Math.floor(live.clientWidth)), narrow = width < 560;
      if (state.u) state.u.destroy();
      const { options, bands } = seriesOptions(plot);
      state.hidden.forEach((hidden, i) => { if (hidden) options[i + 1].show = false; });
      const marks = 15 * plot.marks.length;
      state.u = new uPlot({
        width, height: (narrow ? 300 : 340) + marks, legend: { show: false }, series: options, bands,
        padding: [10 + marks, 14, 0, 0],
        cursor: { drag: { x: true, y: false }, points: { size: 9 }, y: false },
        scales: {
          x: { time: false, min: whole.x[0], max: whole.x[1], auto: false },
          y: { range: () => whole.y },
        },
        axes: [axisOptions(plot.x, 2, narrow, width - 70), axisOptions(plot.y, 3, narrow, width)],
        hooks: { draw: [extras(plot)], setCursor: [say] },
      }, table(plot), box);
      reset();
      say(state.u);
    };
    box.addEventListener("dblclick", reset);
    box.addEventListener("keydown", (event) => {
      const u = state.u, last = u.data[0].length - 1;
      const now = u.cursor.idx === null || u.cursor.idx === undefined ? (event.key === "ArrowLeft" ? last + 1 : -1) : u.cursor.idx;
      /** So many places on: an x that stands there several times is one. */
      const moved = (way) => {
        let i = now;
        for (let k = event.shiftKey ? 10 : 1; k > 0; --k) {
          const x = u.data[0][i];
          do i += way; while (i > 0 && i < last && u.data[0][i] === x);
        }
        return Math.min(last, Math.max(0, i));
      };
      let to = null;
      if (event.key === "ArrowRight") to = moved(1);
      else if (event.key === "ArrowLeft") to = moved(-1);
      else if (event.key === "Home") to = 0;
      else if (event.key === "End") to = last;
      else if (event.key === "+" || event.key === "=") closer(0.5);
      else if (event.key === "-") closer(2);
      else if (event.key === "0" || event.key === "Escape") reset();
      else return;
      event.preventDefault();
      if (to !== null) u.setCursor({ left: u.valToPos(u.data[0][to], "x"), top: 10 });
    });
    [["Closer", () => closer(0.5)], ["Farther", () => closer(2)], ["All of it", reset]].forEach(([text, act]) => {
      const button = made("button", looks, text);
      button.type = "button";
      button.addEventListener("click", act);
    });
    live.hidden = false;
    still.hidden = true;
    state.draw();
    plots.push(state);
  }

  document.querySelectorAll("figure").forEach((figure) => {
    if (figure.querySelector("script[type='application/json']")) enliven(figure);
  });

  // ---- the whole page ------------------------------------------------------------------------------------------------
  const chooser = document.getElementById("unit");
  chooser.closest("p").hidden = false;
  chooser.addEventListener("change", () => {
    unit = units[chooser.selectedIndex];
    document.querySelectorAll("[data-u]").forEach((element) => {
      element.textContent = element.getAttribute("data-u").split("\u2016")[chooser.selectedIndex];
    });
    plots.forEach((state) => state.draw());
  });
  let width = innerWidth;
  addEventListener("resize", () => {
    if (innerWidth === width) return;
    width = innerWidth;
    plots.forEach((state) => state.draw());
  });
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => plots.forEach((state) => state.draw()));
  // On paper nothing can be opened: every table stands open there, and afterwards as it was.
  let closed = [];
  addEventListener("beforeprint", () => {
    plots.forEach((state) => { state.figure.querySelector(".still").hidden = false; });
    closed = closed.concat([...document.querySelectorAll("details:not([open])")]);
    closed.forEach((details) => { details.open = true; });
  });
  addEventListener("afterprint", () => {
    plots.forEach((state) => { state.figure.querySelector(".still").hidden = true; });
    closed.forEach((details) => { details.open = false; });
    closed = [];
  });
  document.documentElement.dataset.ready = String(Math.round(performance.now()));
})();
