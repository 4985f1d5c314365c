"use strict";
for (const holder of document.querySelectorAll("script[id$=field-data]")) {
  const own = (name) => document.getElementById(holder.id.slice(0, -"field-data".length) + name);
  const [canvas, slider, output] = ["field", "theta", "field-value"].map(own);
  if (!canvas || !slider || !output) continue;
  document.documentElement.classList.add("live");
  const data = JSON.parse(holder.textContent);
  const bytes = Int8Array.from(atob(data.values), (c) => c.charCodeAt(0));
  const count = data.points.length / 2;
  const r = (i) => data.points[2 * i];
  const z = (i) => data.points[2 * i + 1];
  let low = [Infinity, Infinity];
  let high = [-Infinity, -Infinity];
  for (let i = 0; i < count; i++) {
    low = [Math.min(low[0], r(i)), Math.min(low[1], z(i))];
    high = [Math.max(high[0], r(i)), Math.max(high[1], z(i))];
  }
  // The rim alone: the rest of the wheel would make it small.
  low[0] = Math.max(low[0], data.from);
  const edge = 12;
  const scale = Math.min((canvas.width - 2 * edge) / (high[1] - low[1]), (canvas.height - 2 * edge) / (high[0] - low[0]));
  const left = 0.5 * (canvas.width - scale * (high[1] - low[1]));
  const x = (i) => left + scale * (z(i) - low[1]);
  const y = (i) => edge + scale * (high[0] - r(i));
  const paint = canvas.getContext("2d");
  const colours = data.colours.map((c) => [1, 3, 5].map((at) => parseInt(c.slice(at, at + 2), 16)));
  const colour = (share) => {
    const place = (0.5 + 0.5 * share) * (colours.length - 1);
    const base = Math.min(Math.floor(place), colours.length - 2);
    const mixed = colours[base].map((c, k) => Math.round(c + (place - base) * (colours[base + 1][k] - c)));
    return `rgb(${mixed.join(",")})`;
  };
  const row = () => Math.round((Number(slider.value) + 180) / 360 * data.angles) % data.angles;
  const value = (i) => bytes[row() * count + i] / 127;
  const rounded = (number, digits) => String(Number(number.toPrecision(digits)));
  const words = (share) => `${rounded(share * data.most, 3)} ${data.unit}`;
  const draw = () => {
    paint.fillStyle = "#ffffff";
    paint.fillRect(0, 0, canvas.width, canvas.height);
    for (let t = 0; t < data.triangles.length; t += 3) {
      const corners = data.triangles.slice(t, t + 3);
      const mean = (value(corners[0]) + value(corners[1]) + value(corners[2])) / 3;
      paint.fillStyle = paint.strokeStyle = colour(mean);
      paint.beginPath();
      corners.forEach((i, k) => (k ? paint.lineTo(x(i), y(i)) : paint.moveTo(x(i), y(i))));
      paint.closePath();
      paint.fill();
      paint.stroke();
    }
  };
  const tell = (more) => {
    let most = 0;
    for (let i = 0; i < count; i++) if (r(i) >= low[0] && value(i) > value(most)) most = i;
    output.textContent = `θ = ${slider.value}°: highest tension in this picture ${words(value(most))}.${more || " Point at the section to read its stress."}`;
  };
  const under = (px, py) => {
    for (let t = 0; t < data.triangles.length; t += 3) {
      const [a, b, c] = data.triangles.slice(t, t + 3);
      const whole = (x(b) - x(a)) * (y(c) - y(a)) - (x(c) - x(a)) * (y(b) - y(a));
      const u = ((px - x(a)) * (y(c) - y(a)) - (x(c) - x(a)) * (py - y(a))) / whole;
      const v = ((x(b) - x(a)) * (py - y(a)) - (px - x(a)) * (y(b) - y(a))) / whole;
      if (u >= 0 && v >= 0 && u + v <= 1) return (1 - u - v) * value(a) + u * value(b) + v * value(c);
    }
    return null;
  };
  canvas.addEventListener("pointermove", (event) => {
    const box = canvas.getBoundingClientRect();
    const px = (event.clientX - box.left) * canvas.width / box.width;
    const py = (event.clientY - box.top) * canvas.height / box.height;
    const share = under(px, py);
    if (share === null) return tell();
    const place = [high[0] - (py - edge) / scale, low[1] + (px - left) / scale];
    const at = place.map((mm) => rounded(mm * data.length.per_mm, 4));
    tell(` Here (r ${at[0]}, z ${at[1]} ${data.length.unit}): ${words(share)}, ${share < 0 ? "compression" : "tension"}.`);
  });
  canvas.addEventListener("pointerleave", () => tell());
  slider.addEventListener("input", () => { draw(); tell(); });
  slider.value = String(Math.max(-180, Math.min(175, data.start)));
  draw();
  tell();
}
