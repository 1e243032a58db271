// What this device remembers: small settings, and text that is not saved yet. A browser that stores nothing forgets them.
const kPrefix = 'shedbook.';

export function recall(name, otherwise = null) {
  try {
    const text = localStorage.getItem(kPrefix + name);
    return text === null ? otherwise : JSON.parse(text);
  } catch {
    return otherwise;
  }
}

export function remember(name, value) {
  try {
    if (value === null || value === undefined) localStorage.removeItem(kPrefix + name);
    else localStorage.setItem(kPrefix + name, JSON.stringify(value));
    return true;
  } catch {
    return false;
  }
}
