// Makes an image file of a sock that is on the page, with some lines below it, to be kept or sent. Loaded when the knitter
// asks for it, and stored with the rest. Everything is painted here: the picture goes to no server.

// In pixels: the whole image, and what stays free around what is on it.
const [WIDE, HIGH, FREE] = [1200, 1500, 90];
// The part of the height that is the sock's.
const SOCK = 0.7;
const [TITLE, LINE] = [64, 42];

/**
 * Offers the image to whatever the device sends things with, else as a file to be saved.
 * @param {Element} drawing of the sock, as it is on the page
 * @param {string} title
 * @param {string} lines with line breaks between them
 * @param {string} name of the file
 * @returns {Promise<boolean>} whether there is an image
 */
export async function keep(drawing, title, lines, name) {
  if (!(drawing instanceof SVGSVGElement)) return false;
  const canvas = paint(drawing, title, lines.split('\n'));
  /** @type {Blob | null} */
  const blob = await new Promise((done) => canvas.toBlob(done, 'image/png'));
  if (!blob) return false;
  const file = new File([blob], name, { type: 'image/png' });
  if (navigator.canShare?.({ files: [file] })) {
    try {
      await navigator.share({ files: [file] });
      return true;
    } catch (error) {
      // She thought better of it. Anything else is no reason to have no picture.
      if (error instanceof DOMException && error.name === 'AbortError') return true;
    }
  }
  const link = document.createElement('a');
  link.href = URL.createObjectURL(file);
  link.download = name;
  link.rel = 'external';
  document.body.append(link);
  link.click();
  link.remove();
  // Some browsers still read it a while after the click.
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
  return true;
}

function paint(/** @type {SVGSVGElement} */ drawing, /** @type {string} */ title, /** @type {string[]} */ lines) {
  const canvas = document.createElement('canvas');
  [canvas.width, canvas.height] = [WIDE, HIGH];
  const context = canvas.getContext('2d');
  if (!context) return canvas;
  const root = getComputedStyle(document.documentElement);
  context.fillStyle = root.getPropertyValue('--sheet') || 'white';
  context.fillRect(0, 0, WIDE, HIGH);
  paintDrawing(context, drawing);
  context.setTransform(1, 0, 0, 1, 0, 0);
  context.fillStyle = root.getPropertyValue('--ink') || 'black';
  context.textAlign = 'center';
  const faces = { head: root.getPropertyValue('--face-head') || 'serif', text: root.getPropertyValue('--face') || 'sans-serif' };
  let y = HIGH * SOCK + FREE + TITLE;
  context.font = `600 ${TITLE}px ${faces.head}`;
  context.fillText(title, WIDE / 2, y, WIDE - 2 * FREE);
  context.font = `${LINE}px ${faces.text}`;
  y += LINE / 2;
  for (const line of lines) {
    y += LINE * 1.6;
    context.fillText(line, WIDE / 2, y, WIDE - 2 * FREE);
  }
  return canvas;
}

// Stroke by stroke, as the style sheet colours them on the page.
function paintDrawing(/** @type {CanvasRenderingContext2D} */ context, /** @type {SVGSVGElement} */ drawing) {
  const { x, y, width, height } = drawing.viewBox.baseVal;
  const room = { wide: WIDE - 2 * FREE, high: HIGH * SOCK - FREE };
  const scale = Math.min(room.wide / width, room.high / height);
  // Left-handed knitting is shown in the mirror.
  const mirrored = getComputedStyle(drawing).transform.startsWith('matrix(-1');
  const whole = new DOMMatrix()
    .translate(FREE + (room.wide - width * scale) / 2, FREE + (room.high - height * scale) / 2)
    .scale(scale)
    .translate(mirrored ? width : 0, 0)
    .scale(mirrored ? -1 : 1, 1)
    .translate(-x, -y);
  const page = drawing.getCTM()?.inverse();
  for (const one of drawing.querySelectorAll('path, use')) {
    if (!(one instanceof SVGGraphicsElement) || one.closest('defs')) continue;
    const shape = one instanceof SVGUseElement ? document.getElementById(one.href.baseVal.slice(1)) : one;
    const line = new Path2D(shape?.getAttribute('d') ?? '');
    const within = one.getCTM();
    const matrix = page && within ? whole.multiply(page.multiply(within)) : whole;
    context.setTransform(matrix);
    const style = getComputedStyle(one);
    if (style.fill !== 'none') {
      context.fillStyle = style.fill;
      context.fill(line);
    }
    if (style.stroke !== 'none') {
      context.strokeStyle = style.stroke;
      context.lineWidth = Number.parseFloat(style.strokeWidth);
      context.lineCap = 'round';
      context.lineJoin = 'round';
      context.stroke(line);
    }
  }
}
