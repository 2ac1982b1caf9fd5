// Looks for a code in a picture, beside the page so that the page stays quick.
// jsQR 1.4.0 (Apache-2.0) in vendor/: for browsers without a reader of their own.

importScripts("vendor/jsQR.js");

onmessage = ({ data: { pixels, width, height } }) => {
  const found = self.jsQR(new Uint8ClampedArray(pixels), width, height, { inversionAttempts: "dontInvert" });
  postMessage(found ? found.data : null);
};
