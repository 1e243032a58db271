// Claims one after the other, each by name; what fails is said at once and counted at the end.
let passed = 0;
let failed = 0;

const kLongest = 240000; // milliseconds: a page that hangs is a fault too

const tooLong = () =>
  new Promise((_, reject) => {
    setTimeout(() => reject(new Error(`no end within ${kLongest / 1000} s`)), kLongest).unref();
  });

export async function claim(name, check) {
  const began = Date.now();
  try {
    const note = await Promise.race([check(), tooLong()]);
    passed += 1;
    console.log(`ok    ${name}${note ? ` (${note})` : ''}  ${((Date.now() - began) / 1000).toFixed(1)} s`);
    return true;
  } catch (fault) {
    failed += 1;
    console.log(`FAILS ${name}\n      ${String(fault.message ?? fault).split('\n').slice(0, 12).join('\n      ')}`);
    return false;
  }
}

export function expect(condition, words) {
  if (!condition) throw new Error(words);
}

export function expectNone(list, words) {
  if (list.length) throw new Error(`${words}:\n${list.join('\n')}`);
}

export function close() {
  console.log(`${passed} passed, ${failed} failed`);
  return failed === 0 && passed > 0;
}
