// The camera at the back of the tablet, looked at until a code is read.

import { codeReader } from "./code_reader.js";

const BETWEEN_MS = 120; // pictures: often enough for a steady hand, and the battery lasts

/** Why the camera cannot be used, in words. */
const WHY_NOT = {
  NotAllowedError: "The camera is not allowed on this page. Allow it in the browser's settings for this address.",
  NotFoundError: "This tablet has no camera.",
  NotReadableError: "Another program holds the camera.",
};

/** Show the camera in *video* and tell *found(text)* what is read; return `stop()`. */
export async function lookThroughCamera(video, found) {
  if (!navigator.mediaDevices) throw new Error("The camera needs an address with HTTPS.");
  const stream = await navigator.mediaDevices
    .getUserMedia({ video: { facingMode: "environment", width: { ideal: 1280 } } })
    .catch((error) => {
      throw new Error(WHY_NOT[error.name] ?? "The camera did not start.");
    });
  let looking = true;
  const stop = () => {
    looking = false;
    for (const track of stream.getTracks()) track.stop();
  };
  video.srcObject = stream;
  await video.play();
  const read = await codeReader();
  (async () => {
    while (looking) {
      const { videoWidth: width, videoHeight: height } = video;
      const text = width ? await read(video, width, height).catch(() => null) : null;
      if (looking && text && found(text)) stop();
      else await new Promise((resolve) => setTimeout(resolve, BETWEEN_MS));
    }
  })();
  return stop;
}
