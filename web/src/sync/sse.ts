// Server-sent events out of a byte stream that may be cut anywhere (WHATWG HTML, section 9.2).

export interface ServerEvent {
  event: string;
  id: string;
  data: string;
}

export class EventReader {
  private readonly decoder = new TextDecoder();
  private rest = '';
  private event = '';
  private id = '';
  private data: string[] = [];

  /** The events that are whole after these bytes. Comments, which keep the line open, give none. */
  read(bytes: Uint8Array): ServerEvent[] {
    this.rest += this.decoder.decode(bytes, { stream: true });
    const lines = this.rest.split(/\r\n|\n|\r(?!$)/);
    this.rest = lines.pop() ?? '';
    const out: ServerEvent[] = [];
    for (const line of lines) {
      if (line === '') {
        if (this.data.length > 0) out.push({ event: this.event || 'message', id: this.id, data: this.data.join('\n') });
        this.event = '';
        this.data = [];
      } else this.take(line);
    }
    return out;
  }

  private take(line: string): void {
    if (line.startsWith(':')) return;
    const colon = line.indexOf(':');
    const field = colon < 0 ? line : line.slice(0, colon);
    const value = colon < 0 ? '' : line.slice(colon + 1).replace(/^ /, '');
    if (field === 'event') this.event = value;
    else if (field === 'id') this.id = value;
    else if (field === 'data') this.data.push(value);
  }
}
