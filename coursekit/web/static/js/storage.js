// What this device keeps between pages; in memory alone where it may keep nothing.
const memory = new Map();

export function read(key) {
  try {
    return JSON.parse(localStorage.getItem(key));
  } catch {
    return memory.get(key) ?? null;
  }
}

export function write(key, value) {
  memory.set(key, value);
  try {
    localStorage.setItem(key, JSON.stringify(value));
  } catch { /* a full or forbidden store: the page itself still keeps it */ }
}

export function remove(key) {
  memory.delete(key);
  try {
    localStorage.removeItem(key);
  } catch { /* nothing was kept there */ }
}

// Plain http has no crypto.randomUUID; getRandomValues is there.
export function freshKey() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
}
