// Reads labels with the camera, on the device itself; nothing of the picture is sent.
// Without this script a mark is typed, which leads to the same list.
const root = document.querySelector(".scanner");
const camera = document.getElementById("camera");
const told = document.getElementById("scan-told");
const opens = document.getElementById("camera-open");
const closes = document.getElementById("camera-close");

const PAUSE = 150; // milliseconds between two looks
const AGAIN = 3000; // a label that stays in the picture counts once
const WIDEST = 640; // a label held at arm's length is large enough in so many pixels
const ITEMS = root.dataset.items.replace(/0$/, "");
let stream = null;
let last = { text: "", at: 0 };

function tell(key, text = root.dataset[key]) {
  told.textContent = text;
}

// The part after the address of items, where a code is a label of this very store.
function itemOf(text) {
  let address;
  try {
    address = new URL(text);
  } catch {
    return null;
  }
  const isOurs = address.origin === location.origin && address.pathname.startsWith(ITEMS);
  const item = address.pathname.slice(ITEMS.length);
  return isOurs && /^\d+$/.test(item) ? item : null;
}

async function reader() {
  if ("BarcodeDetector" in self) {
    const formats = await BarcodeDetector.getSupportedFormats();
    if (formats.includes("qr_code")) {
      const detector = new BarcodeDetector({ formats: ["qr_code"] });
      return async () => (await detector.detect(camera)).map((code) => code.rawValue);
    }
  }
  await import(root.dataset.decoder);
  const canvas = document.createElement("canvas");
  const context = canvas.getContext("2d", { willReadFrequently: true });
  return async () => {
    const scale = Math.min(1, WIDEST / camera.videoWidth);
    const [width, height] = [camera.videoWidth, camera.videoHeight].map((n) => Math.round(n * scale));
    [canvas.width, canvas.height] = [width, height];
    context.drawImage(camera, 0, 0, width, height);
    const picture = context.getImageData(0, 0, width, height);
    const code = self.jsQR(picture.data, width, height, { inversionAttempts: "dontInvert" });
    return code?.data ? [code.data] : [];
  };
}

// The server keeps the list in the address: it answers with the whole page, of which the
// list is taken over.
async function add(item) {
  const list = document.getElementById("scanned");
  const form = list.querySelector("form");
  const query = new URLSearchParams(new FormData(form));
  query.delete("mark");
  query.append("item", item);
  const address = `${form.action}?${query}`;
  try {
    const answer = await fetch(address);
    if (!answer.ok || answer.redirected) throw new Error(answer.status);
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    list.replaceWith(page.getElementById("scanned"));
    history.replaceState(null, "", address);
    tell("", document.getElementById("scanned").dataset.told);
  } catch {
    last = { text: "", at: 0 };
    tell("lost");
  }
}

async function take(text) {
  const isSame = text === last.text && Date.now() - last.at < AGAIN;
  last = { text, at: Date.now() };
  if (isSame) return;
  const item = itemOf(text);
  if (item === null) tell("foreign");
  else if (new FormData(document.querySelector("#scanned form")).get("act") === "open") {
    stop();
    location.assign(ITEMS + item);
  } else {
    navigator.vibrate?.(60);
    await add(item);
  }
}

async function look(read) {
  while (stream) {
    if (camera.readyState >= camera.HAVE_CURRENT_DATA) {
      const found = await read().catch(() => []); // a picture that came too late, or too early
      for (const text of found) await take(text);
    }
    await new Promise((done) => setTimeout(done, PAUSE));
  }
}

async function start() {
  opens.disabled = true;
  try {
    stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment" } });
    camera.srcObject = stream;
    const read = await reader(); // large, and so fetched only where there is a camera
    await camera.play();
    show(true);
    tell("looking");
    look(read);
  } catch (error) {
    stop();
    tell(error.name === "NotAllowedError" ? "denied" : "none");
  }
  opens.disabled = false;
}

function stop() {
  stream?.getTracks().forEach((track) => track.stop());
  stream = null;
  camera.srcObject = null;
  show(false);
}

function show(isOn) {
  camera.hidden = !isOn;
  closes.hidden = !isOn;
  opens.hidden = isOn;
}

if (navigator.mediaDevices?.getUserMedia) {
  show(false);
  opens.addEventListener("click", start);
  closes.addEventListener("click", stop);
  addEventListener("pagehide", stop);
} else {
  tell("insecure");
}
