import { EventEmitter } from 'node:events';
import type { BrowserWindowConstructorOptions } from 'electron';

/**
 * A thin stand-in for the `electron` module: takes what the desktop program tells Electron and lets a test play the
 * window, the page and the user. Use it by `vi.mock('electron', () => import('./electronStandIn.ts'))`.
 */

/** Every call whose order matters, in order. */
export const calls: string[] = [];

class StandInApp extends EventEmitter {
  name = '';
  paths: Record<string, string> = {};
  hasLock = true;
  exitStatus: number | undefined;

  setName(name: string): void {
    this.name = name;
  }
  setPath(name: string, path: string): void {
    this.paths[name] = path;
  }
  requestSingleInstanceLock(): boolean {
    calls.push('lock');
    return this.hasLock;
  }
  async whenReady(): Promise<void> {
    calls.push('ready');
  }
  /** As Electron does it: asks the listeners, then ends unless one of them prevented it. */
  quit(): void {
    calls.push('quit');
    const event = preventable();
    this.emit('will-quit', event);
    if (!event.prevented) this.exit(0);
  }
  exit(status: number): void {
    calls.push(`exit ${status}`);
    this.exitStatus ??= status;
    this.emit('stand-in-exit');
  }
}

/** An event of Electron's that can be prevented, with what else belongs to it. */
export function preventable<T extends object>(more?: T) {
  return {
    ...(more as T),
    prevented: false,
    preventDefault() {
      this.prevented = true;
    },
  };
}

export class StandInContents extends EventEmitter {
  openHandler: ((details: { url: string }) => { action: string }) | undefined;
  sent: unknown[] = [];
  destroyed = false;

  setWindowOpenHandler(handler: (details: { url: string }) => { action: string }): void {
    this.openHandler = handler;
  }
  send(...message: unknown[]): void {
    if (this.destroyed) throw new TypeError('Object has been destroyed');
    this.sent.push(message);
  }
  isDestroyed(): boolean {
    return this.destroyed;
  }
}

export class BrowserWindow {
  static all: BrowserWindow[] = [];
  readonly webContents = new StandInContents();
  readonly options: BrowserWindowConstructorOptions;
  minimized = false;

  constructor(options: BrowserWindowConstructorOptions) {
    calls.push('window');
    this.options = options;
    BrowserWindow.all.push(this);
    app.emit('web-contents-created', {}, this.webContents);
  }
  async loadURL(address: string): Promise<void> {
    calls.push(`load ${address}`);
  }
  show(): void {
    calls.push('show');
  }
  focus(): void {
    calls.push('focus');
  }
  isMinimized(): boolean {
    return this.minimized;
  }
  restore(): void {
    calls.push('restore');
    this.minimized = false;
  }
}

type Handler = (event: unknown, ...values: unknown[]) => unknown;
export const ipcMain = {
  handlers: new Map<string, Handler>(),
  handle(channel: string, handler: Handler): void {
    this.handlers.set(channel, handler);
  },
  removeHandler(channel: string): void {
    this.handlers.delete(channel);
  },
};

export const protocol = {
  privileged: [] as unknown[],
  handlers: new Map<string, (request: Request) => Response | Promise<Response>>(),
  registerSchemesAsPrivileged(schemes: unknown[]): void {
    calls.push('privileged');
    this.privileged = schemes;
  },
  handle(scheme: string, handler: (request: Request) => Response | Promise<Response>): void {
    calls.push('protocol');
    this.handlers.set(scheme, handler);
  },
};

export const session = {
  defaultSession: {
    permissionRequest: undefined as ((...values: unknown[]) => void) | undefined,
    permissionCheck: undefined as ((...values: unknown[]) => boolean) | undefined,
    devicePermission: undefined as ((...values: unknown[]) => boolean) | undefined,
    beforeRequest: undefined as unknown[] | undefined,
    setPermissionRequestHandler(handler: (...values: unknown[]) => void): void {
      this.permissionRequest = handler;
    },
    setPermissionCheckHandler(handler: (...values: unknown[]) => boolean): void {
      this.permissionCheck = handler;
    },
    setDevicePermissionHandler(handler: (...values: unknown[]) => boolean): void {
      this.devicePermission = handler;
    },
    webRequest: {
      onBeforeRequest(...values: unknown[]): void {
        session.defaultSession.beforeRequest = values;
      },
    },
  },
};

export const dialog = {
  boxes: [] as string[][],
  showErrorBox(...texts: string[]): void {
    this.boxes.push(texts);
  },
};

export const Menu = {
  buildFromTemplate: (template: unknown[]): unknown[] => template,
  setApplicationMenu(): void {},
};

export let app = new StandInApp();

/** Forgets everything, as a new process would. */
export function restart(): void {
  calls.length = 0;
  app = new StandInApp();
  BrowserWindow.all = [];
  ipcMain.handlers.clear();
  protocol.privileged = [];
  protocol.handlers.clear();
  dialog.boxes = [];
  const { defaultSession } = session;
  defaultSession.permissionRequest = undefined;
  defaultSession.permissionCheck = undefined;
  defaultSession.devicePermission = undefined;
  defaultSession.beforeRequest = undefined;
}
