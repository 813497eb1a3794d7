package ferrule.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.curriculum.Curriculum;
import ferrule.ledger.HeadSigner;
import ferrule.store.RealDatabases;
import ferrule.web.WebConfig;
import ferrule.web.WebServer;
import ferrule.web.WebServer.Route;
import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.time.Clock;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;

/** What every answer tells the browser to hold to, at every route of the router, whether or not it lets one in. */
class HeadersIT {

  private static final HttpClient CLIENT = HttpClient.newBuilder().version(HttpClient.Version.HTTP_1_1).build();
  private static final Map<String, String> ASKED = Map.of(
      "X-Content-Type-Options", "nosniff", "Cross-Origin-Opener-Policy", "same-origin",
      "Cross-Origin-Resource-Policy", "same-origin", "Strict-Transport-Security", "max-age=31536000; includeSubDomains");

  @Test
  void everyRouteBehindTlsSaysThem() throws IOException, InterruptedException {
    Installation installation = new Installation(
        Books.read(Curriculum.bundled()), RealDatabases.h2(), HeadSigner.passing(), Clock.systemUTC(), ZoneOffset.UTC);
    List<String> found = new ArrayList<>();
    int cookies = 0;
    try (WebServer server = installation.serve(new WebConfig("127.0.0.1", 0, true, List.of()))) {
      List<Route> routes = new ArrayList<>(server.routes());
      routes.add(new Route("GET", "/static/ferrule.css", java.util.Set.of()));
      routes.add(new Route("GET", "/no-such-page", java.util.Set.of()));
      routes.add(new Route("GET", "/at/main/practise", java.util.Set.of()));
      routes.add(new Route("GET", "/at/no-such-site/", java.util.Set.of()));
      for (Route route : routes) {
        HttpResponse<Void> answer = CLIENT.send(
            HttpRequest.newBuilder(URI.create("http://127.0.0.1:" + server.port() + route.path().replaceAll("\\{[^}]+}", "1")))
                .method(route.method(), HttpRequest.BodyPublishers.noBody()).build(), HttpResponse.BodyHandlers.discarding());
        ASKED.forEach((name, value) -> {
          if (!answer.headers().allValues(name).equals(List.of(value))) {
            found.add(route + ": " + name + " is " + answer.headers().allValues(name));
          }
        });
        // a link that leaves the house is told to nobody at all
        if (!java.util.Set.of("same-origin", "no-referrer").contains(answer.headers().firstValue("Referrer-Policy").orElse(""))) {
          found.add(route + ": what is told of where one comes from: " + answer.headers().map().get("referrer-policy"));
        }
        String policy = answer.headers().firstValue("Content-Security-Policy").orElse("");
        if (!policy.contains("default-src 'self'") || !policy.contains("object-src 'none'")
            || !policy.contains("frame-ancestors 'none'") || !policy.contains("base-uri 'none'")
            || policy.contains("unsafe") || policy.contains("*")) {
          found.add(route + ": the policy is " + policy);
        }
        for (String cookie : answer.headers().allValues("Set-Cookie")) {
          cookies++;
          if (!cookie.startsWith("__Host-") || !cookie.contains("Secure") || !cookie.contains("HttpOnly")
              || !cookie.contains("SameSite=Lax") || !cookie.contains("Path=/") || cookie.contains("Domain")) {
            found.add(route + ": sets " + cookie);
          }
        }
      }
      System.out.println(routes.size() + " routes, " + cookies + " cookies");
      assertTrue(routes.size() > 100 && cookies > 0, routes.size() + " routes, " + cookies + " cookies");
    } finally {
      installation.close();
    }
    assertEquals(List.of(), found, () -> String.join("\n", found));
  }

  @Test
  void noAddressIsTraced() throws IOException, InterruptedException {
    try (RunningFerrule ferrule = new RunningFerrule()) {
      for (String path : List.of("/", "/sign-in", "/practise", "/static/ferrule.css", "/health/ready")) {
        HttpResponse<String> answer = CLIENT.send(
            HttpRequest.newBuilder(URI.create(ferrule.at(path))).header("X-Sent", "what was sent")
                .method("TRACE", HttpRequest.BodyPublishers.noBody()).build(),
            HttpResponse.BodyHandlers.ofString());
        assertTrue(answer.statusCode() >= 400 && answer.statusCode() < 500, path + ": " + answer.statusCode());
        assertFalse(answer.body().contains("what was sent"), path + ": " + answer.body());
      }
    }
  }
}
