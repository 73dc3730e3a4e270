// Notes keys, news of the station and Web Audio as they come. The audio is the browser's own; only its calls are noted.
(() => {
  const observed = { keys: [], events: [], news: [], audio: 0, tones: [], spoken: [] };
  window.observed = observed;
  window.addEventListener('keydown', (event) => observed.keys.push(event.timeStamp), { capture: true });

  const note = (news) => {
    const at = performance.now();
    if (news.kind === 'entry') observed.events.push(news.entry.event);
    if (news.kind === 'entry' && news.entry.event.type === 'reading-taken') {
      observed.news.push({ at, what: news.entry.event.verdict });
    }
    if (news.kind === 'live' && news.live.outcome) observed.news.push({ at, what: `live ${news.live.outcome}` });
    if (news.kind === 'continuity' && news.on) observed.news.push({ at, what: news.closed ? 'closed' : 'not closed' });
  };
  window.WebSocket = class extends WebSocket {
    constructor(address) {
      super(address);
      // Before the page's own listener.
      this.addEventListener('message', ({ data }) => {
        const { news } = JSON.parse(data);
        if (news) note(news);
      });
    }
  };

  window.AudioContext = class extends AudioContext {
    constructor(...options) {
      super(...options);
      observed.audio += 1;
    }
  };
  const { start, stop } = AudioScheduledSourceNode.prototype;
  const begun = new WeakMap();
  AudioScheduledSourceNode.prototype.start = function (when = 0) {
    const after = (when - this.context.currentTime) * 1000;
    const hertz = this.frequency?.value ?? 0;
    const tone = { at: performance.now(), clock: Date.now(), when, after, lasts: null, hertz };
    observed.tones.push(tone);
    begun.set(this, tone);
    start.call(this, when);
  };
  AudioScheduledSourceNode.prototype.stop = function (when = 0) {
    const tone = begun.get(this);
    if (tone) {
      // What has ended is not made longer by being stopped.
      tone.lasts = Math.min(tone.lasts ?? Number.POSITIVE_INFINITY, when - tone.when);
      tone.stoppedAt = performance.now();
    }
    stop.call(this, when);
  };
})();
