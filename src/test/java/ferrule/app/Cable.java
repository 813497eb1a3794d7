package ferrule.app;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.atomic.AtomicBoolean;

/**
 * A network cable between one visitor and the server that can be pulled: then nothing listens at the visitor's address
 * and every open connection is gone, for pages and service workers alike.
 */
final class Cable implements AutoCloseable {

  private final int to;
  private final int port;
  private final Set<Socket> open = ConcurrentHashMap.newKeySet();
  private volatile ServerSocket listening;
  private volatile String lossy = "";
  private volatile int losses;

  /** A cable to the server on this port of this machine. */
  Cable(int to) {
    this.to = to;
    this.listening = listen(0);
    this.port = listening.getLocalPort();
    accept(listening);
  }

  private static ServerSocket listen(int port) {
    try {
      ServerSocket socket = new ServerSocket();
      socket.setReuseAddress(true);
      socket.bind(new java.net.InetSocketAddress(InetAddress.getLoopbackAddress(), port));
      return socket;
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** The address of a page at the visitor's end. */
  String at(String path) {
    return "http://127.0.0.1:" + port + path;
  }

  /** Pulls the cable. */
  void cut() {
    close(listening);
    open.forEach(Cable::close);
    open.clear();
  }

  /** Puts it back. */
  void mend() {
    listening = listen(port);
    accept(listening);
  }

  /** The next requests to this address, so many of them, reach the server, and its replies are lost. */
  void loseReplies(String start, int howMany) {
    lossy = start;
    losses = howMany;
  }

  private void accept(ServerSocket server) {
    start(() -> {
      while (!server.isClosed()) {
        Socket here = server.accept();
        Socket there = new Socket(InetAddress.getLoopbackAddress(), to);
        open.add(here);
        open.add(there);
        if (server.isClosed()) { // pulled while this one was being connected
          close(here);
          close(there);
          return;
        }
        AtomicBoolean lost = new AtomicBoolean();
        start(() -> copy(here, there, lost, false));
        start(() -> copy(there, here, lost, true));
      }
    });
  }

  private void copy(Socket from, Socket into, AtomicBoolean lost, boolean reply) throws IOException {
    try (from; into) {
      InputStream in = from.getInputStream();
      OutputStream out = into.getOutputStream();
      byte[] bytes = new byte[16_384];
      for (int n = in.read(bytes); n >= 0; n = in.read(bytes)) {
        if (reply && lost.get()) {
          return;
        }
        if (!reply && losses > 0 && new String(bytes, 0, n, StandardCharsets.ISO_8859_1).contains(lossy)) {
          losses--;
          lost.set(true);
        }
        out.write(bytes, 0, n);
      }
    }
  }

  private interface Work {
    void run() throws IOException;
  }

  private static void start(Work work) {
    Thread thread = new Thread(() -> {
      try {
        work.run();
      } catch (IOException e) {
        // the cable was pulled
      }
    });
    thread.setDaemon(true);
    thread.start();
  }

  private static void close(AutoCloseable socket) {
    try {
      socket.close();
    } catch (Exception e) {
      // it is gone either way
    }
  }

  @Override
  public void close() {
    cut();
  }
}
