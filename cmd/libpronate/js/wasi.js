// What a Go program asks of its surroundings under WASI preview 1, as far as a
// library needs it: clocks, random numbers and a place for complaints. There are no
// files, arguments and variables. The same in browsers and in node.

const errno = { none: 0, badFile: 8, noSystem: 52 };

// Exit is thrown through the module where it ends itself, which it does after a
// fault that it cannot recover from.
export class Exit extends Error {
  constructor(code) {
    super(`exit ${code}`);
    this.name = 'Exit';
  }
}

// Everything of preview 1 that is answered with "no such call". A list, so that a
// new version of Go that asks for more of it still starts.
const absent = `clock_res_get fd_advise fd_allocate fd_datasync fd_fdstat_set_rights
  fd_filestat_get fd_filestat_set_size fd_filestat_set_times fd_pread fd_pwrite fd_read fd_readdir fd_renumber
  fd_seek fd_sync fd_tell path_create_directory path_filestat_get path_filestat_set_times path_link path_open
  path_readlink path_remove_directory path_rename path_symlink path_unlink_file proc_raise sock_accept sock_recv
  sock_send sock_shutdown`.split(/\s+/);

// No file but the two outputs is open.
const closed = ['fd_close', 'fd_fdstat_get', 'fd_fdstat_set_flags', 'fd_prestat_get', 'fd_prestat_dir_name'];

// imports makes the import object; memory.of is to become the module's memory before
// it runs, and crypto is the Web's.
export function imports(memory, crypto) {
  const view = () => new DataView(memory.of.buffer);
  const none = (count, size) => {
    view().setUint32(count, 0, true);
    view().setUint32(size, 0, true);
    return errno.none;
  };
  const calls = {
    args_sizes_get: none,
    environ_sizes_get: none,
    args_get: () => errno.none,
    environ_get: () => errno.none,
    clock_time_get(id, _precision, at) {
      // 0 is the time of day, whose nanoseconds are past what a number counts by ones.
      const ns = id === 0 ? BigInt(Date.now()) * 1000000n : BigInt(Math.round(performance.now() * 1e6));
      view().setBigUint64(at, ns, true);
      return errno.none;
    },
    random_get(at, length) {
      const most = 65536; // bytes that getRandomValues gives at a time
      for (let done = 0; done < length; done += most) {
        crypto.getRandomValues(new Uint8Array(memory.of.buffer, at + done, Math.min(most, length - done)));
      }
      return errno.none;
    },
    fd_write: writer(view),
    // A page must not sleep: every wait is over at once, and who waits asks again.
    poll_oneoff(subscriptions, events, count, written) {
      const data = view();
      let n = 0;
      for (let i = 0; i < count; i++) {
        const [from, to] = [subscriptions + 48 * i, events + 32 * n];
        if (data.getUint8(from + 8) !== 0) continue; // not a clock
        data.setBigUint64(to, data.getBigUint64(from, true), true);
        for (let k = 8; k < 32; k += 8) data.setBigUint64(to + k, 0n, true);
        n++;
      }
      data.setUint32(written, n, true);
      return n > 0 ? errno.none : errno.noSystem;
    },
    sched_yield: () => errno.none,
    proc_exit(code) {
      throw new Exit(code);
    },
  };
  for (const name of absent) calls[name] = () => errno.noSystem;
  for (const name of closed) calls[name] = () => errno.badFile;
  return { wasi_snapshot_preview1: calls };
}

// writer is fd_write to the console, by whole lines.
function writer(view) {
  const begun = { 1: '', 2: '' };
  const decoder = new TextDecoder();
  return (file, parts, count, written) => {
    if (!(file in begun)) return errno.badFile;
    const data = view();
    let size = 0;
    for (let i = 0; i < count; i++) {
      const [at, length] = [data.getUint32(parts + 8 * i, true), data.getUint32(parts + 8 * i + 4, true)];
      begun[file] += decoder.decode(new Uint8Array(data.buffer, at, length));
      size += length;
    }
    const lines = begun[file].split('\n');
    begun[file] = lines.pop();
    for (const line of lines) (file === 1 ? console.log : console.error)(line);
    data.setUint32(written, size, true);
    return errno.none;
  };
}
