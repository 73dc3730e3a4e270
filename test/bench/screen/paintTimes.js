// Runs in the page that is measured: notes when what stands in an element was painted, how long frames took, and long tasks.
// Times are milliseconds since 1970, which other processes of this machine know as well.
const now = () => performance.timeOrigin + performance.now();

globalThis.measured = { painted: {}, frames: [], longTasks: [] };

/** Calls back when what the document holds now is on the screen. */
function afterPaint(done) {
  requestAnimationFrame(() => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = done;
    port2.postMessage(0);
  });
}

/** From now on notes for each text of an element when it was painted. */
globalThis.watchText = (selector) => {
  let last = '';
  const look = () => {
    const text = document.querySelector(selector)?.textContent ?? '';
    if (text === last) return;
    last = text;
    afterPaint(() => {
      globalThis.measured.painted[text] ??= now();
    });
  };
  new MutationObserver(look).observe(document.body, { childList: true, subtree: true, characterData: true });
};

/** From now on notes how far frames are apart, until it is called again. */
globalThis.watchFrames = (isOn) => {
  globalThis.framesWatched = isOn;
  let last = null;
  const frame = (at) => {
    if (last !== null) globalThis.measured.frames.push(at - last);
    last = at;
    if (globalThis.framesWatched) requestAnimationFrame(frame);
  };
  if (isOn) requestAnimationFrame(frame);
};

/** When an element is there and painted. */
globalThis.whenPainted = (selector) =>
  new Promise((resolve) => {
    const look = () => {
      if (document.querySelector(selector)) afterPaint(() => resolve(now()));
      else requestAnimationFrame(look);
    };
    look();
  });

new PerformanceObserver((list) => {
  for (const { duration } of list.getEntries()) globalThis.measured.longTasks.push(duration);
}).observe({ type: 'longtask' });
