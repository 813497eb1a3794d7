package ferrule.app;

import io.javalin.Javalin;
import java.io.File;
import java.io.IOException;
import java.net.ServerSocket;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.concurrent.TimeUnit;

/**
 * How long Ferrule takes from the start of its process to the first page, as a ratio to a bare Javalin that says hello,
 * in turn on the same machine. The database exists already (a warm disk, a second start), as on any day but the first.
 *
 * <p>Run: {@code mvn -q -Pbench -DskipTests verify exec:java -Dexec.mainClass=ferrule.app.StartRatio}.
 */
public final class StartRatio {

  private static final int ROUNDS = 7;

  private StartRatio() {}

  /** The bare program to compare with. */
  public static final class Hello {
    private Hello() {}

    /** Serves "hello" on the port given. */
    public static void main(String[] args) {
      Javalin.create(
              config -> {
                config.startup.showJavalinBanner = false;
                config.routes.get("/sign-in", ctx -> ctx.result("hello"));
              })
          .start("127.0.0.1", Integer.parseInt(args[0]));
    }
  }

  /** Prints the times of each round and the ratio of the medians. */
  public static void main(String[] args) throws Exception {
    String jar = Path.of("target", "ferrule.jar").toAbsolutePath().toString();
    String benchClasses = Path.of("target", "test-classes").toAbsolutePath().toString();
    Path data = Files.createTempDirectory("ferrule-start");
    List<Long> hello = new ArrayList<>();
    List<Long> ferrule = new ArrayList<>();
    for (int round = 0; round <= ROUNDS; round++) {
      int port = freePort();
      long bare =
          firstPage(port, List.of("-cp", jar + File.pathSeparator + benchClasses, Hello.class.getName(), "" + port));
      port = freePort();
      long ours = firstPage(port, List.of("-jar", jar, "serve", "--demo", "--port", "" + port, "--data", data + ""));
      if (round > 0) { // the first round makes the demo's database and warms the disk
        hello.add(bare);
        ferrule.add(ours);
        System.out.printf("round %d: bare %d ms, Ferrule %d ms%n", round, bare, ours);
      }
    }
    System.out.printf(
        "median to first page: bare %d ms, Ferrule %d ms, ratio %.2f%n",
        median(hello), median(ferrule), (double) median(ferrule) / median(hello));
  }

  private static long firstPage(int port, List<String> arguments) throws IOException, InterruptedException {
    List<String> command = new ArrayList<>(List.of(Path.of(System.getProperty("java.home"), "bin", "java").toString()));
    command.addAll(arguments);
    long start = System.nanoTime();
    Process process =
        new ProcessBuilder(command)
            .redirectOutput(ProcessBuilder.Redirect.DISCARD)
            .redirectError(ProcessBuilder.Redirect.DISCARD)
            .start();
    try {
      awaitPage(port);
      return TimeUnit.NANOSECONDS.toMillis(System.nanoTime() - start);
    } finally {
      process.destroy();
      process.waitFor(20, TimeUnit.SECONDS);
    }
  }

  private static void awaitPage(int port) throws InterruptedException {
    HttpClient client = HttpClient.newHttpClient();
    HttpRequest request = HttpRequest.newBuilder(URI.create("http://127.0.0.1:" + port + "/sign-in")).build();
    long giveUp = System.nanoTime() + Duration.ofSeconds(60).toNanos();
    while (System.nanoTime() < giveUp) {
      try {
        if (client.send(request, HttpResponse.BodyHandlers.ofString()).statusCode() == 200) {
          return;
        }
      } catch (IOException notYet) {
        Thread.sleep(5);
      }
    }
    throw new IllegalStateException("no page on port " + port + " within a minute");
  }

  private static int freePort() throws IOException {
    try (ServerSocket socket = new ServerSocket(0)) {
      return socket.getLocalPort();
    }
  }

  private static long median(List<Long> times) {
    List<Long> sorted = new ArrayList<>(times);
    Collections.sort(sorted);
    return sorted.get(sorted.size() / 2);
  }
}
