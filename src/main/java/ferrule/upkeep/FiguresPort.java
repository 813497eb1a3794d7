package ferrule.upkeep;

import com.sun.net.httpserver.HttpExchange;
import com.sun.net.httpserver.HttpServer;
import java.io.IOException;
import java.net.InetSocketAddress;
import java.nio.charset.StandardCharsets;
import java.util.Optional;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.function.Supplier;

/**
 * The figures on a port of their own ({@code /metrics}), which nobody from outside needs to reach; beside them what a
 * supervisor asks ({@code /health/live}, {@code /health/ready}).
 */
public final class FiguresPort implements AutoCloseable {

  private final HttpServer server;
  private final ExecutorService threads =
      Executors.newFixedThreadPool(
          2,
          work -> {
            Thread thread = new Thread(work, "figures");
            thread.setDaemon(true);
            return thread;
          });

  /**
   * Opens the port.
   *
   * @param port 0 for any free one
   * @param notReady why no requests should come to this node
   * @throws IOException if it cannot be opened
   */
  public FiguresPort(String host, int port, Supplier<String> figures, Supplier<Optional<String>> notReady)
      throws IOException {
    server = HttpServer.create(new InetSocketAddress(host, port), 0);
    server.setExecutor(threads);
    server.createContext("/metrics", e -> answer(e, 200, "text/plain; version=0.0.4; charset=utf-8", figures.get()));
    server.createContext("/health/live", e -> answer(e, 200, "text/plain; charset=utf-8", "live\n"));
    server.createContext("/health/ready", e -> {
      Optional<String> why = notReady.get();
      answer(e, why.isEmpty() ? 200 : 503, "text/plain; charset=utf-8",
          why.map(w -> "not ready: " + w + "\n").orElse("ready\n"));
    });
    server.start();
  }

  private static void answer(HttpExchange exchange, int status, String type, String text) throws IOException {
    byte[] bytes = text.getBytes(StandardCharsets.UTF_8);
    exchange.getResponseHeaders().set("Content-Type", type);
    try (exchange) {
      exchange.sendResponseHeaders(status, bytes.length);
      exchange.getResponseBody().write(bytes);
    }
  }

  /** The port that it listens on. */
  public int port() {
    return server.getAddress().getPort();
  }

  @Override
  public void close() {
    server.stop(0);
    threads.shutdownNow();
  }
}
