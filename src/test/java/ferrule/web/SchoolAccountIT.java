package ferrule.web;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.people.Opening;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.people.SchoolProvider;
import ferrule.store.Database;
import ferrule.store.RealDatabases;
import io.javalin.config.RoutesConfig;
import java.io.IOException;
import java.net.CookieManager;
import java.net.ServerSocket;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;

/** Coming in by an account with the school, at a real OpenID provider on this machine. */
class SchoolAccountIT {

  private static final class Probe implements Pages {
    @Override
    public void routes(RoutesConfig routes) {
      routes.get("/account", ctx -> ctx.result("account of " + Visit.person(ctx).fullName()), Access.SIGNED_IN);
      routes.get("/lathe", ctx -> ctx.result("lathe"), Access.SIGNED_IN);
    }
  }

  private Database database;
  private PeopleStore people;
  private WebServer server;
  private RealProvider provider;
  private Person wren;

  private void open(Optional<String> nameClaim) throws IOException {
    int port;
    try (ServerSocket free = new ServerSocket(0)) {
      port = free.getLocalPort();
    }
    provider = RealProvider.start("http://127.0.0.1:" + port + "/sign-in/school/back");
    database = RealDatabases.h2();
    people = new PeopleStore(database, Clock.systemUTC());
    wren = new Person(UUID.randomUUID(), "wren", "Invented Wren", Role.APPRENTICE, Optional.empty());
    people.add(wren, Optional.of("copper kettle"), Optional.empty());
    SchoolProvider school =
        new SchoolProvider(
            URI.create(provider.issuer()), RealProvider.CLIENT, Optional.of(RealProvider.SECRET), "guild account", nameClaim);
    server =
        WebServer.start(
            new WebConfig("127.0.0.1", port, false, List.of(), Optional.of(school)), people, List.of(new Probe()));
  }

  @AfterEach
  void close() {
    server.close();
    database.close();
    provider.close();
  }

  /** A browser with cookies that goes from host to host by hand. */
  private static final class Visitor {

    private final HttpClient client = HttpClient.newBuilder().cookieHandler(new CookieManager()).build();

    HttpResponse<String> get(String url) {
      return send(HttpRequest.newBuilder(URI.create(url)).header("Accept", "text/html").GET());
    }

    HttpResponse<String> post(String url, Map<String, String> fields) {
      StringBuilder body = new StringBuilder();
      fields.forEach((k, v) -> body.append(body.isEmpty() ? "" : "&").append(k).append('=')
          .append(URLEncoder.encode(v, StandardCharsets.UTF_8)));
      return send(HttpRequest.newBuilder(URI.create(url)).header("Content-Type", "application/x-www-form-urlencoded")
          .POST(HttpRequest.BodyPublishers.ofString(body.toString())));
    }

    private HttpResponse<String> send(HttpRequest.Builder request) {
      try {
        return client.send(request.build(), HttpResponse.BodyHandlers.ofString());
      } catch (IOException | InterruptedException e) {
        throw new IllegalStateException(e);
      }
    }
  }

  private String at(String path) {
    return "http://127.0.0.1:" + server.port() + path;
  }

  private static String to(HttpResponse<String> answer) {
    String location = answer.headers().firstValue("Location").orElseThrow(
        () -> new AssertionError(answer.statusCode() + " " + answer.uri() + "\n" + answer.body()));
    return answer.uri().resolve(location).toString();
  }

  /** Goes to the provider, signs in there, and returns the address at which it sends the browser back. */
  private String throughTheProvider(Visitor visitor, String way) {
    String authorize = to(visitor.get(at(way)));
    assertTrue(authorize.startsWith(provider.issuer() + "/oauth2/authorize"), authorize);
    assertTrue(authorize.contains("code_challenge_method=S256"), authorize);
    HttpResponse<String> form = visitor.get(to(visitor.get(authorize)));
    Matcher csrf = Pattern.compile("name=\"_csrf\"[^>]*value=\"([^\"]+)\"").matcher(form.body());
    assertTrue(csrf.find(), form.body());
    HttpResponse<String> in = visitor.post(
        provider.issuer() + "/login",
        Map.of("username", "wren at the school", "password", "school password", "_csrf", csrf.group(1)));
    return to(visitor.get(to(in)));
  }

  private static String hidden(HttpResponse<String> page) {
    Matcher field = Pattern.compile("name=\"csrf\" value=\"([^\"]*)\"").matcher(page.body());
    assertTrue(field.find(), page.body());
    return field.group(1);
  }

  private Visitor signedIn() {
    Visitor visitor = new Visitor();
    String secret = hidden(visitor.get(at("/sign-in")));
    visitor.post(at("/sign-in"), Map.of("csrf", secret, "name", "wren", "password", "copper kettle"));
    return visitor;
  }

  @Test
  void onlyWhoeverConnectedTheirAccountComesInByIt() throws IOException {
    open(Optional.empty());
    Visitor stranger = new Visitor();
    String back = throughTheProvider(stranger, "/sign-in/school?then=%2Flathe");
    assertEquals(at("/sign-in"), to(stranger.get(back)), "nobody is connected yet");

    Visitor own = signedIn();
    assertEquals(at("/account"), to(own.get(throughTheProvider(own, "/sign-in/school/connect"))));
    assertTrue(people.schools().isConnected(wren.id()));

    Visitor phone = new Visitor();
    assertEquals(at("/lathe"), to(phone.get(throughTheProvider(phone, "/sign-in/school?then=%2Flathe"))));
    assertEquals("lathe", phone.get(at("/lathe")).body());
    assertTrue(people.sessions().of(wren.id()).stream().anyMatch(s -> s.opening().how() == Opening.How.SCHOOL));
  }

  @Test
  void theNameThatTheProviderVouchesForLeadsInWhereThatIsConfigured() throws IOException {
    open(Optional.of("preferred_username"));
    Visitor phone = new Visitor();
    assertEquals(at("/"), to(phone.get(throughTheProvider(phone, "/sign-in/school"))));
    assertEquals("lathe", phone.get(at("/lathe")).body());
    assertTrue(people.schools().isConnected(wren.id()));
  }

  @Test
  void anAnswerCountsOnceInItsOwnBrowserOnly() throws IOException {
    open(Optional.of("preferred_username"));
    Visitor attacker = new Visitor();
    String back = throughTheProvider(attacker, "/sign-in/school");
    Visitor victim = new Visitor();
    assertEquals(at("/sign-in"), to(victim.get(back)), "another browser has not begun this");
    assertEquals(303, victim.get(at("/lathe")).statusCode());

    assertEquals(at("/"), to(attacker.get(back)));
    assertEquals(at("/sign-in"), to(attacker.get(back)), "used up");
  }

  @Test
  void aForgedCodeIsRefusedWithoutDetails() throws IOException {
    open(Optional.of("preferred_username"));
    Visitor visitor = new Visitor();
    String back = throughTheProvider(visitor, "/sign-in/school").replaceFirst("code=[^&]+", "code=forged");
    assertEquals(at("/sign-in"), to(visitor.get(back)));
    assertFalse(people.schools().isConnected(wren.id()));
  }

  @Test
  void codesAreStillAskedForWhereTheyAreOn() throws IOException {
    open(Optional.of("preferred_username"));
    var authenticator = people.secondSteps().begin(wren.id()).orElseThrow();
    assertTrue(people.secondSteps().confirm(wren.id(), authenticator.at(java.time.Instant.now())));
    Visitor phone = new Visitor();
    assertEquals(at("/sign-in/code"), to(phone.get(throughTheProvider(phone, "/sign-in/school"))));
    assertEquals(303, phone.get(at("/lathe")).statusCode());
  }
}
