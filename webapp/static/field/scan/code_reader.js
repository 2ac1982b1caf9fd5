// Reads a code out of a picture of the camera: by the browser, else by a worker of ours.

const HALF = 0.5; // read first: blurred and pale codes are found better, and sooner

/** Return `read(source, width, height)`: a Promise of the text in the picture, or null. */
export async function codeReader() {
  const own = await browserReader();
  if (own) return own;
  const worker = new Worker("/static/field/scan/reader_worker.js");
  const canvas = document.createElement("canvas");
  const draw = canvas.getContext("2d", { willReadFrequently: true });
  let whole = false;
  return async (source, width, height) => {
    whole = !whole;
    const scale = whole ? 1 : HALF;
    canvas.width = Math.round(width * scale);
    canvas.height = Math.round(height * scale);
    draw.drawImage(source, 0, 0, canvas.width, canvas.height);
    const { data } = draw.getImageData(0, 0, canvas.width, canvas.height);
    return ask(worker, { pixels: data.buffer, width: canvas.width, height: canvas.height });
  };
}

async function browserReader() {
  if (!("BarcodeDetector" in globalThis)) return null;
  const formats = await BarcodeDetector.getSupportedFormats().catch(() => []);
  if (!formats.includes("qr_code")) return null;
  const detector = new BarcodeDetector({ formats: ["qr_code"] });
  return async (source) => (await detector.detect(source))[0]?.rawValue ?? null;
}

function ask(worker, picture) {
  return new Promise((resolve, reject) => {
    worker.onmessage = ({ data }) => resolve(data);
    worker.onerror = () => reject(new Error("The reader of codes did not start."));
    worker.postMessage(picture, [picture.pixels]);
  });
}
