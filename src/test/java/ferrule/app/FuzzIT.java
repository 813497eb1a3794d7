package ferrule.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.options.Cookie;
import ferrule.curriculum.Curriculum;
import ferrule.ledger.HeadSigner;
import ferrule.people.Opening;
import ferrule.people.Role;
import ferrule.people.SignedIn;
import ferrule.procedure.Procedure;
import ferrule.site.Site;
import ferrule.store.Database;
import ferrule.store.RealDatabases;
import ferrule.web.Access;
import ferrule.web.WebConfig;
import ferrule.web.WebServer;
import ferrule.web.WebServer.Route;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.net.URI;
import java.net.URLDecoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Duration;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
import org.jsoup.nodes.Element;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.MethodOrderer;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestMethodOrder;

/**
 * Hostile values in every field of every form, in every parameter of every path and in every question that a page's links
 * ask. The routes are the router's, the forms and links the pages' own. No answer is a fault, whatever is refused leaves no
 * trace in any table, and what was taken runs in no page that Chromium shows afterwards. Each field gets so many values as
 * {@code ferrule.fuzz} says, other ones than the field before it.
 */
@TestMethodOrder(MethodOrderer.OrderAnnotation.class)
class FuzzIT {

  private static final int VALUES = Integer.getInteger("ferrule.fuzz", 2);
  private static final Duration BOUND = Duration.ofSeconds(20);
  private static final HttpClient CLIENT = HttpClient.newBuilder().version(HttpClient.Version.HTTP_1_1).build();
  private static final String VISITOR = "the secret of a browser that nobody has signed in with";
  private static final List<Hostile> HOSTILE = Hostile.all();
  /** What a refused request may leave: wrong tries, sessions, a secret still to be confirmed, what is only kept to be quicker. */
  private static final Set<String> MAY_CHANGE = Set.of(
      "web_session", "guess_level", "known_browser", "sign_in_puzzle", "tablet_person", "kept_progress", "kept_verdicts",
      "school_request", "audit_entry", "code_secret", "known_pending", "known_through");
  /** The fields of what only scripts send, and of forms that a page shows only in a certain state. */
  private static final Map<String, Map<String, List<String>>> BY_HAND = byHand();

  private static Installation demo;
  private static WebServer server;
  private static ThingsInPaths things;
  private static final Map<String, Form> forms = new TreeMap<>();
  private static final Map<String, Set<String>> questions = new TreeMap<>();

  private static Map<String, Map<String, List<String>>> byHand() {
    Map<String, Map<String, List<String>>> all = new TreeMap<>();
    try (InputStream in = FuzzIT.class.getResourceAsStream("fields-by-hand.txt")) {
      new String(in.readAllBytes(), StandardCharsets.UTF_8).lines().filter(l -> !l.startsWith("#")).forEach(line -> {
        String[] words = line.split(" ");
        Map<String, List<String>> fields = new LinkedHashMap<>();
        Stream.of(words).skip(1).filter(w -> !w.equals("-")).map(w -> w.split("=", 2))
            .forEach(w -> fields.put(w[0], List.of(URLDecoder.decode(w[1], StandardCharsets.UTF_8))));
        all.put(words[0], fields);
      });
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    return all;
  }

  /** The fields of a route, from its form and by hand. */
  private static Map<String, List<String>> fieldsOf(Route route) {
    Map<String, List<String>> fields = new LinkedHashMap<>(
        Optional.ofNullable(forms.get(route.path())).map(Form::fields).orElse(Map.of()));
    BY_HAND.getOrDefault(route.path(), Map.of()).forEach(fields::putIfAbsent);
    return fields;
  }

  private static Optional<Role> whoSends(Route route) {
    return Optional.ofNullable(forms.get(route.path())).map(Form::who).orElseGet(() -> firstOf(route));
  }

  /** Who asks: a role's person, or nobody. */
  private record Caller(Optional<String> token, String secret) {

    static Caller of(Optional<Role> role) {
      return role.map(r -> {
        String token = demo.people().sessions().open(DemoProgramme.id(switch (r) {
          case APPRENTICE -> "Wren Aldous";
          case INSTRUCTOR -> "Isolde Farrow";
          case COORDINATOR -> "Magnus Thorley";
        }), Opening.by(Opening.How.PASSWORD, "a test"));
        SignedIn session = demo.people().sessions().find(token).orElseThrow();
        return new Caller(Optional.of(token), session.csrfToken());
      }).orElseGet(() -> new Caller(Optional.empty(), VISITOR));
    }

    Map<String, String> cookies() {
      Map<String, String> cookies = new LinkedHashMap<>(Map.of("ferrule_visitor", Hostile.encode(VISITOR)));
      token.ifPresent(t -> cookies.put("ferrule_session", t));
      return cookies;
    }
  }

  /** A form as a page has it, and where that page is. */
  private record Form(Optional<Role> who, String page, Map<String, List<String>> fields) {}

  @BeforeAll
  static void open() {
    demo = new Installation(
        Books.read(Curriculum.bundled()), database(), HeadSigner.passing(), Clock.systemUTC(), ZoneOffset.UTC);
    DemoProgramme.fill(demo);
    server = demo.serve(new WebConfig("127.0.0.1", 0, false, DemoProgramme.ACCOUNTS));
    things = new ThingsInPaths(new Site(Site.FIRST, ""), demo);
    String drill = things.path("/class/drills/{id}").replaceFirst(".*/", "");
    assertEquals(303, send(Caller.of(Optional.of(Role.INSTRUCTOR)), "/class/paper",
        "drill=" + drill + "&versions=1&title=On+paper").statusCode());
    assertEquals(303, send(Caller.of(Optional.of(Role.INSTRUCTOR)),
        things.path("/class/paper/{id}/scores/{person}/version"), "version=A").statusCode());
    Touched.watch(demo.database());
    gather();
  }

  /** H2, or with {@code -Dferrule.fuzz.on=postgresql} the other one. */
  private static Database database() {
    return System.getProperty("ferrule.fuzz.on", "").equals("postgresql") ? RealDatabases.postgres() : RealDatabases.h2();
  }

  @AfterAll
  static void close() {
    server.close();
    demo.close();
  }

  private static Optional<Role> firstOf(Route route) {
    for (Role role : List.of(Role.APPRENTICE, Role.INSTRUCTOR, Role.COORDINATOR)) {
      if (!route.who().contains(Access.ANYONE)
          && route.who().stream().anyMatch(r -> r instanceof Access a && a.admits(role))) {
        return Optional.of(role);
      }
    }
    return Optional.empty();
  }

  private static List<Route> routes(String method) {
    return server.routes().stream().filter(r -> r.method().equals(method)).toList();
  }

  private static Optional<String> routeOf(String method, String path) {
    return routes(method).stream().map(Route::path)
        .filter(p -> Pattern.matches(p.replaceAll("\\{[^}]+}", "[^/]+"), path))
        .min(java.util.Comparator.comparingInt(p -> p.length() - p.replace("{", "").length()));
  }

  /** Reads every page once as each role that may, and keeps its forms and what its links ask. */
  private static void gather() {
    for (Route route : routes("GET")) {
      if (route.path().matches(".*\\.[a-z]+$|.*/(all|file|consistency)$")) {
        continue;
      }
      List<Optional<Role>> callers = new ArrayList<>();
      if (route.who().contains(Access.ANYONE)) {
        callers.add(Optional.empty());
      }
      for (Role role : Role.values()) {
        if (route.who().stream().anyMatch(r -> r instanceof Access a && a != Access.ANYONE && a.admits(role))) {
          callers.add(Optional.of(role));
        }
      }
      for (Optional<Role> who : callers) {
        read(who, things.path(route.path()));
      }
    }
  }

  private static void read(Optional<Role> who, String page) {
    HttpResponse<String> answer = get(Caller.of(who), page);
    if (answer.statusCode() != 200 || !answer.headers().firstValue("Content-Type").orElse("").contains("html")) {
      return;
    }
    Document document = Jsoup.parse(answer.body(), "http://127.0.0.1:" + server.port() + page);
    for (Element form : document.select("form")) {
      Map<String, List<String>> fields = fields(document, form);
      URI action = URI.create(form.absUrl("action").isEmpty() ? document.location() : form.absUrl("action"));
      if (form.attr("method").equalsIgnoreCase("post")) {
        routeOf("POST", action.getPath()).ifPresent(route -> forms.merge(
            route, new Form(who, page, fields), (a, b) -> a.fields().size() >= b.fields().size() ? a : b));
      } else {
        routeOf("GET", action.getPath()).ifPresent(
            route -> questions.computeIfAbsent(route, r -> new TreeSet<>()).addAll(fields.keySet()));
      }
    }
    for (Element link : document.select("a[href*=?]")) {
      String address = link.absUrl("href").replaceAll("#.*", "");
      routeOf("GET", address.replaceAll("^http://[^/]+|\\?.*", "")).ifPresent(route -> {
        for (String pair : address.replaceFirst(".*\\?", "").split("&")) {
          questions.computeIfAbsent(route, r -> new TreeSet<>()).add(pair.replaceAll("=.*", ""));
        }
      });
    }
  }

  private static Map<String, List<String>> fields(Document document, Element form) {
    Map<String, List<String>> fields = new LinkedHashMap<>();
    String id = form.id();
    List<Element> inputs = new ArrayList<>(form.select("[name]"));
    if (!id.isEmpty()) {
      inputs.addAll(document.select("[form=" + id + "][name]"));
    }
    for (Element input : inputs) {
      String name = input.attr("name");
      if (!name.equals("csrf") && !name.isEmpty() && (!fields.containsKey(name) || input.hasAttr("checked"))) {
        fields.put(name, List.of(value(input)));
      }
    }
    return fields;
  }

  /** What stands in a field, or something that might. */
  private static String value(Element input) {
    String there = switch (input.normalName()) {
      case "select" -> Optional.ofNullable(input.selectFirst("option[selected]"))
          .or(() -> input.select("option").stream().filter(o -> !o.val().isEmpty()).findFirst()).map(Element::val).orElse("");
      case "textarea" -> input.text();
      default -> input.val();
    };
    if (!there.isEmpty()) {
      return there;
    }
    String name = input.attr("name");
    return switch (input.attr("type")) {
      case "date" -> LocalDate.now(ZoneOffset.UTC).plusDays(1).toString();
      case "number" -> input.hasAttr("min") ? input.attr("min") : "1";
      case "password" -> name.contains("pin") ? "2468" : "brass lantern";
      default -> name.contains("pin") ? "2468" : "Invented";
    };
  }

  private static HttpResponse<String> get(Caller caller, String path) {
    return ask(caller, path, HttpRequest.Builder::GET);
  }

  private static HttpResponse<String> send(Caller caller, String path, String body) {
    return ask(caller, path, r -> r.header("Content-Type", "application/x-www-form-urlencoded")
        .header("X-CSRF-Token", caller.secret()).POST(HttpRequest.BodyPublishers.ofString(body)));
  }

  private static HttpResponse<String> ask(
      Caller caller, String path, java.util.function.UnaryOperator<HttpRequest.Builder> how) {
    String cookies = caller.cookies().entrySet().stream().map(c -> c.getKey() + "=" + c.getValue())
        .collect(Collectors.joining("; "));
    HttpRequest.Builder request =
        HttpRequest.newBuilder(URI.create("http://127.0.0.1:" + server.port() + path)).timeout(BOUND).header("Cookie", cookies);
    HttpRequest built = how.apply(request).build();
    try {
      try {
        return CLIENT.send(built, HttpResponse.BodyHandlers.ofString());
      } catch (java.net.http.HttpTimeoutException e) {
        throw e;
      } catch (IOException e) {
        // a kept connection may just have been closed: a new one tells
        return HttpClient.newHttpClient().send(built, HttpResponse.BodyHandlers.ofString());
      }
    } catch (IOException | InterruptedException e) {
      throw new AssertionError(path.substring(0, Math.min(200, path.length())) + ": no answer within " + BOUND, e);
    }
  }

  /** Asks and collects what must not be. */
  private static final class Findings {
    private final List<String> found = new ArrayList<>();
    private int asked;
    private int refused;

    void check(String words, HttpResponse<String> answer) {
      asked++;
      if (answer.statusCode() >= 500) {
        found.add(words + ": " + answer.statusCode());
      }
      if (answer.headers().firstValue("Content-Type").orElse("").contains("html")) {
        Hostile.MARKS.stream().filter(answer.body()::contains).forEach(m -> found.add(words + ": the page holds " + m));
      }
      if (answer.headers().allValues("Set-Cookie").stream().anyMatch(c -> c.startsWith("ran="))) {
        found.add(words + ": a header was sent along");
      }
    }

    /** The same, of what is refused also that it left no trace. */
    boolean checkSent(String words, HttpResponse<String> answer, boolean isPin) {
      check(words, answer);
      Set<String> touched = Touched.since(demo.database()).stream().map(t -> t.toLowerCase(java.util.Locale.ROOT))
          .collect(Collectors.toCollection(TreeSet::new));
      boolean taken = answer.statusCode() < 400;
      if (!taken) {
        refused++;
        touched.removeAll(MAY_CHANGE);
        if (isPin) {
          touched.remove("person"); // counts the wrong tries
        }
        if (!touched.isEmpty()) {
          found.add(words + ": refused with " + answer.statusCode() + " and yet changed " + touched);
        }
      }
      return taken;
    }

    void assertNone(String of) {
      System.out.println(of + ": " + asked + " requests, " + refused + " refused");
      assertEquals(List.of(), found, () -> String.join("\n", found));
    }
  }

  @Test
  @Order(1)
  void everyFieldOfEveryForm() {
    Findings findings = new Findings();
    List<String> without = new ArrayList<>();
    Set<String> taken = new TreeSet<>();
    int turn = 0;
    for (Route route : routes("POST")) {
      Map<String, List<String>> fields = fieldsOf(route);
      if (!forms.containsKey(route.path()) && !BY_HAND.containsKey(route.path())) {
        without.add(route.path());
      }
      Optional<Role> who = whoSends(route);
      for (String field : fields.isEmpty() ? Set.of("unasked") : fields.keySet()) {
        for (int i = 0; i < Math.min(VALUES, HOSTILE.size()); i++) {
          Hostile hostile = HOSTILE.get(turn++ % HOSTILE.size());
          // pins that were wrong too often shut the door before any other field is looked at
          demo.database().dsl().execute("update person set pin_failures = 0, pin_locked_until = null where pin_failures > 0");
          String path = things.path(route.path());
          Caller caller = Caller.of(who);
          Touched.since(demo.database());
          if (findings.checkSent("POST " + route.path() + " " + field + ": " + hostile.words(),
              send(caller, path, hostile.in(fields, field)), field.contains("pin"))) {
            taken.add(route.path());
          }
        }
      }
    }
    System.out.println("forms of pages: " + forms.size() + ", routes that took something: " + taken.size()
        + ", with fields by hand alone: " + BY_HAND.keySet().stream().filter(r -> !forms.containsKey(r)).count());
    assertEquals(List.of(), without, "say in fields-by-hand.txt which fields these read");
    assertTrue(forms.size() > 50, () -> "the pages have forms for " + forms.keySet());
    assertTrue(taken.size() > 25, () -> "only these took anything: " + taken);
    findings.assertNone("fields");
  }

  @Test
  @Order(1)
  void whatIsListedByHandIsThere() throws IOException {
    String code;
    try (Stream<Path> files = Files.walk(Path.of("src/main/java"))) {
      code = files.filter(f -> f.toString().endsWith(".java")).map(FuzzIT::text).collect(Collectors.joining());
    }
    Set<String> routes = routes("POST").stream().map(Route::path).collect(Collectors.toSet());
    assertEquals(List.of(), BY_HAND.keySet().stream().filter(r -> !routes.contains(r)).toList(), "no such routes");
    Set<String> words = Stream.of(Procedure.Area.values()).map(Procedure.Area::word).collect(Collectors.toSet());
    assertEquals(List.of(), BY_HAND.values().stream().flatMap(f -> f.keySet().stream())
        .filter(f -> !code.contains("\"" + f + "\"") && !words.contains(f)).toList(), "no handler reads these");
  }

  private static String text(Path file) {
    try {
      return Files.readString(file);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  @Test
  @Order(2)
  void everyFieldOfFormsThatComeInParts() {
    Findings findings = new Findings();
    for (Route route : routes("POST")) {
      Map<String, List<String>> fields = fieldsOf(route);
      for (String field : fields.keySet()) {
        for (byte[] hostile : List.of(new byte[] {'a', 0, 'b'}, new byte[] {'a', (byte) 0xed, (byte) 0xa0, (byte) 0x80})) {
          demo.database().dsl().execute("update person set pin_failures = 0, pin_locked_until = null where pin_failures > 0");
          String path = things.path(route.path());
          Caller caller = Caller.of(whoSends(route));
          Touched.since(demo.database());
          HttpResponse<String> answer = ask(caller, path, r -> r.header("X-CSRF-Token", caller.secret())
              .header("Content-Type", "multipart/form-data; boundary=mark-of-parts").POST(
                  HttpRequest.BodyPublishers.ofByteArray(HostileFiles.inText("mark-of-parts", fields, field, hostile))));
          String words = "POST " + route.path() + " " + field + " in parts, with byte " + hostile[1];
          boolean taken = findings.checkSent(words, answer, field.contains("pin"));
          if (hostile[1] == 0 && taken) {
            findings.found.add(words + ": taken");
          }
        }
      }
    }
    findings.assertNone("fields in parts");
  }

  @Test
  @Order(2)
  void everyParameterOfEveryPathAndEveryQuestion() {
    Findings findings = new Findings();
    int turn = 0;
    for (Route route : server.routes()) {
      Caller caller = Caller.of(firstOf(route));
      String path = things.path(route.path());
      String[] parts = route.path().split("/");
      String[] real = path.replaceFirst("\\?.*", "").split("/");
      for (int p = 0; p < parts.length; p++) {
        for (int i = 0; parts[p].startsWith("{") && i < VALUES; i++) {
          Hostile hostile = HOSTILE.get(turn++ % HOSTILE.size());
          if (hostile.encoded().isEmpty() || hostile.encoded().get(0).matches("|%zz%|.{3000,}")) {
            continue; // another path, or none that a client sends
          }
          String[] changed = real.clone();
          changed[p] = hostile.encoded().get(0).replace("+", "%20");
          String asked = String.join("/", changed);
          String words = route.method() + " " + route.path() + " " + parts[p] + ": " + hostile.words();
          if (route.method().equals("GET")) {
            findings.check(words, get(caller, asked));
          } else {
            Touched.since(demo.database());
            findings.checkSent(words, send(caller, asked, ""), false);
          }
        }
      }
    }
    for (var question : questions.entrySet()) {
      Route route = routes("GET").stream().filter(r -> r.path().equals(question.getKey())).findFirst().orElseThrow();
      for (String field : question.getValue()) {
        for (int i = 0; i < VALUES; i++) {
          Hostile hostile = HOSTILE.get(turn++ % HOSTILE.size());
          if (hostile.encoded().stream().anyMatch(e -> e.equals("%zz%") || e.length() > 6_000)) {
            continue; // no client sends it
          }
          findings.check("GET " + route.path() + " " + field + ": " + hostile.words(), get(Caller.of(firstOf(route)),
              things.path(route.path()).replaceFirst("\\?.*", "") + "?" + hostile.in(Map.of(), field)));
        }
      }
    }
    findings.assertNone("paths and questions");
  }

  @Test
  @Order(3)
  void everyUpload() {
    Findings findings = new Findings();
    for (Map.Entry<String, byte[]> file : HostileFiles.all().entrySet()) {
      for (String[] place : List.of(
          new String[] {"/bench/drafts/{id}/photos", "photo"}, new String[] {"/people/roster", "file"},
          new String[] {"/device/envelopes", "sealed"})) {
        Route route = routes("POST").stream().filter(r -> r.path().equals(place[0])).findFirst().orElseThrow();
        String path = things.path(route.path());
        Caller caller = Caller.of(firstOf(route));
        Touched.since(demo.database());
        HttpResponse<String> answer = ask(caller, path, r -> r.header("X-CSRF-Token", caller.secret())
            .header("Content-Type", "multipart/form-data; boundary=mark-of-parts")
            .POST(HttpRequest.BodyPublishers.ofByteArray(HostileFiles.inForm("mark-of-parts", place[1], file.getValue()))));
        String words = "POST " + place[0] + " " + file.getKey();
        findings.check(words, answer);
        Set<String> touched = Touched.since(demo.database());
        boolean mayBeKept = place[1].equals("photo") && file.getKey().startsWith("kept:");
        if (touched.stream().anyMatch(t -> !MAY_CHANGE.contains(t.toLowerCase(java.util.Locale.ROOT))) && !mayBeKept) {
          findings.found.add(words + ": changed " + touched);
        }
        if (mayBeKept && touched.isEmpty()) {
          findings.found.add(words + ": was not kept");
        }
      }
    }
    byte[] kept = demo.database().dsl().fetchOne("select jpeg from photo where width > 1 fetch first 1 rows only")
        .get(0, byte[].class);
    assertTrue(!new String(kept, StandardCharsets.ISO_8859_1).contains("__ran"), "a photo kept what was hidden in it");
    findings.assertNone("uploads");
  }

  @Test
  @Order(4)
  void nothingThatWasTakenRunsInAnyPage() {
    List<String> found = new ArrayList<>();
    int shown = 0;
    try (Chromium chromium = new Chromium()) {
      for (Role role : Role.values()) {
        try (BrowserContext visitor = chromium.visitor(1000, 800)) {
          String base = "http://127.0.0.1:" + server.port();
          Caller.of(Optional.of(role)).cookies()
              .forEach((name, value) -> visitor.addCookies(List.of(new Cookie(name, value).setUrl(base))));
          visitor.setDefaultTimeout(20_000);
          var page = visitor.newPage();
          page.onDialog(d -> {
            found.add(page.url() + ": a dialog");
            d.dismiss();
          });
          page.onConsoleMessage(m -> {
            if (m.text().contains("Content Security Policy")) {
              found.add(page.url() + ": " + m.text());
            }
          });
          for (Route route : routes("GET")) {
            boolean isPage = !route.path().matches(".*\\.[a-z]+$|.*/(all|file|list|progress)$|/sign-in/school.*|/health.*|/bench/photos.*");
            if (isPage && firstOf(route).filter(role::equals).isPresent()) {
              shown++;
              page.navigate(base + things.path(route.path()));
              if (!Boolean.FALSE.equals(page.evaluate("'__ran' in window"))) {
                found.add(page.url() + ": what was sent ran");
              }
            }
          }
        }
      }
    }
    System.out.println(shown + " pages shown");
    assertTrue(shown > 40, shown + " pages shown");
    assertEquals(List.of(), found);
  }
}
