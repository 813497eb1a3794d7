package ferrule.upkeep;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.OutputStreamWriter;
import java.io.PrintWriter;
import java.net.StandardProtocolFamily;
import java.net.UnixDomainSocketAddress;
import java.nio.channels.Channels;
import java.nio.channels.ServerSocketChannel;
import java.nio.channels.SocketChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.UUID;
import java.util.function.Function;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * By which a command asks the running server for what only the server can do, because it has the embedded database open: a
 * socket in the data folder, which the owner of the folder alone can open. One line is asked, one is answered.
 */
public final class Errand implements AutoCloseable {

  private static final Logger LOG = LoggerFactory.getLogger(Errand.class);
  // the longest path that a socket may have is some hundred bytes on every system
  private static final int LONGEST = 100;

  private final Path path;
  private final ServerSocketChannel server;
  private final Function<String, String> runner;

  /**
   * Begins to listen.
   *
   * @param database the file of the embedded database, by which both sides find each other
   * @param runner answers a line with a line
   * @throws IOException if the socket cannot be made
   */
  public Errand(Path database, Function<String, String> runner) throws IOException {
    this.path = socket(database);
    this.runner = runner;
    Files.deleteIfExists(path); // whoever has the database open now is we: what is there is left from a crash
    server = ServerSocketChannel.open(StandardProtocolFamily.UNIX);
    server.bind(UnixDomainSocketAddress.of(path));
    if (path.getFileSystem().supportedFileAttributeViews().contains("posix")) {
      Files.setPosixFilePermissions(path, PosixFilePermissions.fromString("rw-------"));
    }
    Thread thread = new Thread(this::listen, "errands");
    thread.setDaemon(true);
    thread.start();
  }

  private static Path socket(Path database) {
    Path beside = database.toAbsolutePath().resolveSibling(database.getFileName() + ".socket");
    if (beside.toString().length() <= LONGEST) {
      return beside;
    }
    UUID name = UUID.nameUUIDFromBytes(beside.toString().getBytes(StandardCharsets.UTF_8));
    return Path.of(System.getProperty("java.io.tmpdir"), "ferrule-" + name + ".socket");
  }

  /**
   * Asks the server that has this database open.
   *
   * @return its answer
   * @throws IOException if no server listens
   */
  public static String ask(Path database, String line) throws IOException {
    try (SocketChannel channel = SocketChannel.open(UnixDomainSocketAddress.of(socket(database)))) {
      PrintWriter out = writer(channel);
      out.println(line);
      String answer = reader(channel).readLine();
      if (answer == null) {
        throw new IOException("the server stopped before it answered");
      }
      return answer;
    }
  }

  private void listen() {
    while (server.isOpen()) {
      try (SocketChannel channel = server.accept()) {
        String line = reader(channel).readLine();
        if (line != null) {
          writer(channel).println(runner.apply(line));
        }
      } catch (IOException e) {
        if (server.isOpen()) {
          LOG.warn("an errand was not answered", e);
        }
      }
    }
  }

  private static BufferedReader reader(SocketChannel channel) {
    return new BufferedReader(new InputStreamReader(Channels.newInputStream(channel), StandardCharsets.UTF_8));
  }

  private static PrintWriter writer(SocketChannel channel) {
    return new PrintWriter(new OutputStreamWriter(Channels.newOutputStream(channel), StandardCharsets.UTF_8), true);
  }

  @Override
  public void close() throws IOException {
    server.close();
    Files.deleteIfExists(path);
  }
}
