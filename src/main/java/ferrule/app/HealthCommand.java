package ferrule.app;

import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.time.Duration;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.ExitCode;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Asks a server on this machine whether it takes requests, as a container's health check does. */
@Command(
    name = "health",
    mixinStandardHelpOptions = true,
    description = "Asks the server on this machine whether it takes requests.",
    exitCodeListHeading = "%nExit codes:%n",
    exitCodeList = {"0:it does", "1:it does not, or there is none"})
final class HealthCommand implements Callable<Integer> {

  private static final Duration PATIENCE = Duration.ofSeconds(4);

  @Spec private CommandSpec spec;

  @Option(
      names = "--port",
      defaultValue = "${env:FERRULE_PORT:-8710}",
      description = "The server's port (FERRULE_PORT; default: ${DEFAULT-VALUE}).")
  private int port;

  @Override
  public Integer call() throws InterruptedException {
    HttpRequest ask =
        HttpRequest.newBuilder(URI.create("http://127.0.0.1:" + port + "/health/ready")).timeout(PATIENCE).build();
    try {
      HttpResponse<String> answer = HttpClient.newBuilder().connectTimeout(PATIENCE).build()
          .send(ask, HttpResponse.BodyHandlers.ofString());
      spec.commandLine().getOut().println(answer.body());
      return answer.statusCode() == 200 ? ExitCode.OK : ExitCode.SOFTWARE;
    } catch (IOException e) {
      spec.commandLine().getOut().println("no server answers on port " + port);
      return ExitCode.SOFTWARE;
    }
  }
}
