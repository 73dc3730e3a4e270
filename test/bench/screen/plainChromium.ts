import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { WebSocket } from 'ws';

/**
 * Chromium by its DevTools protocol, with nothing switched on that is not asked for. Playwright has every WebSocket message
 * told to it, which for a run of a million readings takes the page longer than all it does itself.
 */
export interface PlainChromium {
  /** A page of its own at an address, 1280 by 720, with a script that runs in it first. */
  page(address: string, script: string): Promise<PlainPage>;
  close(): Promise<void>;
}

export interface PlainPage {
  /** The value of an expression, awaited where it is a promise; it must be plain data. */
  evaluate<T>(expression: string): Promise<T>;
  /** Presses a key as a keyboard does, for whatever has the focus. */
  press(key: string): Promise<void>;
  /** Seconds that the main thread has worked so far, as its processor counts them, and the time of that in seconds. */
  worked(): Promise<{ worked: number; at: number }>;
  close(): Promise<void>;
}

type Answer = { id?: number; result?: unknown; error?: { message: string } };

export async function startChromium(executablePath: string): Promise<PlainChromium> {
  const profile = mkdtempSync(join(tmpdir(), 'reelohm-bench-'));
  const options = ['--headless=new', '--no-sandbox', '--disable-gpu', '--no-first-run', '--remote-debugging-port=0'];
  const browser = spawn(executablePath, [...options, `--user-data-dir=${profile}`], {
    stdio: ['ignore', 'ignore', 'pipe'],
  });
  const socket = new WebSocket(await addressFrom(browser.stderr), { maxPayload: 0 });
  await once(socket, 'open');
  const waiting = new Map<number, (answer: Answer) => void>();
  let lastId = 0;
  socket.on('message', (data) => {
    const answer = JSON.parse(String(data)) as Answer;
    waiting.get(answer.id ?? 0)?.(answer);
    waiting.delete(answer.id ?? 0);
  });
  const send = async <T>(method: string, params: object = {}, sessionId?: string): Promise<T> => {
    const id = ++lastId;
    const answered = new Promise<Answer>((resolve) => waiting.set(id, resolve));
    socket.send(JSON.stringify({ id, method, params, ...(sessionId && { sessionId }) }));
    const { result, error } = await answered;
    if (error) throw new Error(`${method}: ${error.message}`);
    return result as T;
  };

  return {
    async page(address, script) {
      const { targetId } = await send<{ targetId: string }>('Target.createTarget', { url: 'about:blank' });
      const attached = { targetId, flatten: true };
      const { sessionId } = await send<{ sessionId: string }>('Target.attachToTarget', attached);
      const here = <T>(method: string, params?: object) => send<T>(method, params, sessionId);
      const size = { width: 1280, height: 720, deviceScaleFactor: 1, mobile: false };
      await here('Emulation.setDeviceMetricsOverride', size);
      await here('Page.enable');
      await here('Page.addScriptToEvaluateOnNewDocument', { source: script });
      // What other processes take from this one is not its work.
      await here('Performance.enable', { timeDomain: 'threadTicks' });
      await here('Page.navigate', { url: address });
      return {
        async evaluate<T>(expression: string) {
          const asked = { expression, awaitPromise: true, returnByValue: true };
          const { result, exceptionDetails } = await here<{ result: { value: T }; exceptionDetails?: object }>(
            'Runtime.evaluate',
            asked,
          );
          if (exceptionDetails) throw new Error(JSON.stringify(exceptionDetails));
          return result.value;
        },
        async press(key) {
          const typed = key === 'Enter' ? '\r' : key;
          const text = typed.length === 1 ? { text: typed } : {};
          await here('Input.dispatchKeyEvent', { type: 'keyDown', key, ...text });
          await here('Input.dispatchKeyEvent', { type: 'keyUp', key });
        },
        async worked() {
          const { metrics } = await here<{ metrics: { name: string; value: number }[] }>('Performance.getMetrics');
          const of = (wanted: string) => metrics.find(({ name }) => name === wanted)?.value ?? Number.NaN;
          return { worked: of('TaskDuration'), at: of('Timestamp') };
        },
        async close() {
          await send('Target.closeTarget', { targetId });
        },
      };
    },
    async close() {
      const ended = once(browser, 'exit');
      await send('Browser.close');
      await ended;
      socket.close();
      rmSync(profile, { recursive: true, force: true, maxRetries: 5 });
    },
  };
}

async function addressFrom(output: NodeJS.ReadableStream): Promise<string> {
  for await (const line of createInterface({ input: output })) {
    const address = /DevTools listening on (\S+)/.exec(line)?.[1];
    if (!address) continue;
    // What else it says is of no interest, but must not fill the pipe.
    output.resume();
    return address;
  }
  throw new Error('Chromium ended');
}
