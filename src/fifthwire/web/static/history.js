// The history of a valve's windings as a chart that can be read value by value. Without it the drawing stands there.
"use strict";

(() => {
  const DODGE = 7;

  const colour = (name) => getComputedStyle(document.documentElement).getPropertyValue(`--${name}`).trim();
  const font = () => `13px ${getComputedStyle(document.body).fontFamily}`;

  // outlines of a dot by shape, as the drawing has them
  const SHAPES = {
    ring: (c, x, y, r) => c.arc(x, y, r, 0, 2 * Math.PI),
    square: (c, x, y, r) => c.rect(x - r * 0.9, y - r * 0.9, 1.8 * r, 1.8 * r),
    triangle: (c, x, y, r) => { c.moveTo(x, y - 1.2 * r); c.lineTo(x - 1.1 * r, y + 0.9 * r); c.lineTo(x + 1.1 * r, y + 0.9 * r); c.closePath(); },
    diamond: (c, x, y, r) => { c.moveTo(x, y - 1.3 * r); c.lineTo(x + 1.3 * r, y); c.lineTo(x, y + 1.3 * r); c.lineTo(x - 1.3 * r, y); c.closePath(); },
    cross: (c, x, y, r) => { c.moveTo(x - r, y - r); c.lineTo(x + r, y + r); c.moveTo(x - r, y + r); c.lineTo(x + r, y - r); },
    plus: (c, x, y, r) => { c.moveTo(x - 1.2 * r, y); c.lineTo(x + 1.2 * r, y); c.moveTo(x, y - 1.2 * r); c.lineTo(x, y + 1.2 * r); },
  };

  const SIGNS = { ring: "○", square: "□", triangle: "△", diamond: "◆", cross: "×", plus: "+" };

  function drawDots(u, at, of, shift) {
    const c = u.ctx;
    c.save();
    c.strokeStyle = colour("ink");
    c.fillStyle = of.shape === "diamond" ? colour("ink") : colour("paper");
    c.lineWidth = 1.5 * devicePixelRatio;
    const r = 4.2 * devicePixelRatio;
    for (let i = 0; i < of.ohm.length; i += 1) {
      if (of.ohm[i] === null) continue;
      const x = u.valToPos(u.data[0][i], "x", true) + shift * devicePixelRatio;
      const y = u.valToPos(of.ohm[i], "y", true);
      if (of.u_ohm[i] !== null) {
        c.beginPath();
        c.moveTo(x, u.valToPos(of.ohm[i] - of.u_ohm[i], "y", true));
        c.lineTo(x, u.valToPos(of.ohm[i] + of.u_ohm[i], "y", true));
        c.stroke();
      }
      c.beginPath();
      SHAPES[of.shape](c, x, y, r);
      c.fill();
      c.stroke();
    }
    c.restore();
  }

  function drawBehind(u, data) {
    const c = u.ctx;
    const { left, top, width, height } = u.bbox;
    c.save();
    c.beginPath();
    c.rect(left, top, width, height);
    c.clip();
    if (data.band_ohm) {
      const high = u.valToPos(data.band_ohm[1], "y", true);
      c.fillStyle = colour("soft");
      c.fillRect(left, high, width, u.valToPos(data.band_ohm[0], "y", true) - high);
    }
    c.strokeStyle = colour("ink");
    c.lineWidth = devicePixelRatio;
    c.setLineDash([3 * devicePixelRatio, 3 * devicePixelRatio]);
    for (const when of data.heads) {
      const x = u.valToPos(when, "x", true) - 16 * devicePixelRatio;
      c.beginPath();
      c.moveTo(x, top);
      c.lineTo(x, top + height);
      c.stroke();
    }
    c.restore();
  }

  function drawWork(u, data) {
    const c = u.ctx;
    const base = u.bbox.top + u.bbox.height;
    c.save();
    c.strokeStyle = colour("ink");
    c.fillStyle = colour("ink");
    c.lineWidth = 2.2 * devicePixelRatio;
    c.font = `${11 * devicePixelRatio}px ${getComputedStyle(document.body).fontFamily}`;
    c.textAlign = "center";
    for (const event of data.events) {
      const x = u.valToPos(event.at, "x", true);
      c.beginPath();
      c.moveTo(x, base - 9 * devicePixelRatio);
      c.lineTo(x, base + 5 * devicePixelRatio);
      c.stroke();
      c.fillText(event.word, x, base - 13 * devicePixelRatio);
    }
    c.restore();
  }

  function ranges(data) {
    const ends = [...(data.band_ohm || [])];
    for (const of of data.series) {
      of.ohm.forEach((value, i) => value !== null && ends.push(value - (of.u_ohm[i] || 0), value + (of.u_ohm[i] || 0)));
    }
    const low = Math.min(...ends);
    const high = Math.max(...ends);
    const room = Math.max((high - low) * 0.08, high * 0.005);
    return [low - room, high + room];
  }

  function options(data, width, many) {
    const axis = { stroke: colour("quiet"), font: font(), ticks: { stroke: colour("line"), width: 1 } };
    const last = data.at.length - 1; // shown while nothing is pointed at
    const pointed = (i) => (i === null || i === undefined ? last : i);
    const perHead = data.series.filter((of) => of.head === data.series[0].head).length;
    return {
      width,
      height: 320,
      class: "history-live",
      cursor: { points: { show: false }, x: true, y: false },
      legend: { live: true, markers: { show: false } },
      scales: {
        x: { time: true, range: (u, low, high) => { const room = Math.max((high - low) * 0.05, 20 * 86400); return [low - room, high + room]; } },
        y: { range: () => ranges(data) },
      },
      axes: [
        { ...axis, grid: { show: false } },
        { ...axis, grid: { show: false }, size: 62, values: (u, ticks) => ticks.map((tick) => `${+tick.toFixed(6)} ${data.unit}`) },
      ],
      series: [
        { label: many.day, value: (u, at, series, i) => data.days[pointed(i)] },
        ...data.series.map((of, at) => ({
          label: `${SIGNS[of.shape]} ${of.label}${data.heads.length ? `, ${many.head} ${of.head}` : ""}`,
          paths: () => null,
          points: { show: (u) => { drawDots(u, at, of, DODGE * ((at % perHead) - (perHead - 1) / 2)); return false; } },
          value: (u, value, series, i) => of.shown[pointed(i)] || "–",
        })),
      ],
      hooks: { drawClear: [(u) => drawBehind(u, data)], draw: [(u) => drawWork(u, data)] },
    };
  }

  function raise(place) {
    const data = JSON.parse(place.dataset.chart);
    const many = { day: place.dataset.day, head: place.dataset.head };
    const drawing = place.querySelector(".drawn");
    let chart = null;
    const build = () => {
      if (chart) chart.destroy();
      chart = new uPlot(options(data, place.clientWidth, many), [data.at, ...data.series.map((of) => of.ohm)], place);
    };
    build();
    drawing.classList.add("paper-only");
    new ResizeObserver(() => chart.setSize({ width: place.clientWidth, height: 320 })).observe(place);
    matchMedia("(prefers-color-scheme:dark)").addEventListener("change", build);
  }

  for (const place of document.querySelectorAll("[data-chart]")) raise(place);
})();
