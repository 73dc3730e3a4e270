// A voice of this computer, since a browser without a screen has none; what it is given to speak is noted.
(() => {
  const voice = { lang: 'en-GB', localService: true, default: true, name: 'Lent', voiceURI: 'lent' };
  const synthesis = Object.assign(new EventTarget(), {
    getVoices: () => [voice],
    cancel: () => {},
    speak: ({ text }) => window.observed.spoken.push(text),
  });
  Object.defineProperty(window, 'speechSynthesis', { value: synthesis });
  Object.defineProperty(window, 'SpeechSynthesisUtterance', {
    value: class {
      constructor(text) {
        this.text = text;
      }
    },
  });
})();
