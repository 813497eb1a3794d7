package ferrule.drill;

import ferrule.curriculum.Curriculum;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.store.Database;
import ferrule.store.DatabaseUrl;
import ferrule.store.RealDatabases;
import ferrule.web.Browser;
import ferrule.web.WebConfig;
import ferrule.web.WebServer;
import io.javalin.Javalin;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.atomic.AtomicLong;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * How long answering an item takes over HTTP, as a ratio to a bare Javalin route that writes one row into the same
 * database, in turn in the same run. To answer is to send the form (session, secret, judging, keeping the answer and what
 * follows of what is known) and to read the page to which that leads. The next item is measured beside it.
 *
 * <p>Run: {@code mvn -q -Pbench -DskipTests test-compile exec:java -Dexec.mainClass=ferrule.drill.AnswerRatio
 * -Dexec.classpathScope=test}; about half a minute.
 */
public final class AnswerRatio {

  private static final String PASSWORD = "copper kettle";
  private static final Pattern HIDDEN = Pattern.compile("type=\"hidden\" name=\"([^\"]+)\" value=\"([^\"]*)\"");
  private static final int WARM = 2;

  private AnswerRatio() {}

  /** Prints the medians; the argument is the number of drills of 40 items, 6 if there is none. */
  public static void main(String[] args) throws IOException {
    int drills = args.length > 0 ? Integer.parseInt(args[0]) : 6;
    Path folder = Files.createTempDirectory("ferrule-answers");
    try (Database h2 = Database.open(DatabaseUrl.h2File(folder, "answers"))) {
      measure("H2", h2, drills);
    }
    try (Database postgres = RealDatabases.postgres()) {
      measure("PostgreSQL", postgres, drills);
    }
    System.exit(0); // the test server of PostgreSQL would go on
  }

  private static void measure(String name, Database database, int drills) {
    Clock clock = Clock.systemUTC();
    PeopleStore people = new PeopleStore(database, clock);
    Person wren = new Person(UUID.randomUUID(), "wren", "Invented Wren", Role.APPRENTICE, Optional.empty());
    people.add(wren, Optional.of(PASSWORD), Optional.empty());
    DrillPages pages =
        new DrillPages(
            people, new DrillStore(database), new RulingStore(database), Curriculum.bundled(), Trumpet.GLOSSARY,
            Trumpet.STUDIO, Work.none(), clock, ZoneOffset.UTC);
    try (WebServer server = WebServer.start(new WebConfig("127.0.0.1", 0, false, List.of()), people, List.of(pages))) {
      Javalin bare = bare(database);
      Browser apprentice = new Browser(server.port());
      apprentice.signIn("wren", PASSWORD, "/");
      Times times = new Times();
      for (int drill = -WARM; drill < drills; drill++) {
        take(apprentice, new Browser(bare.port()), drill < 0 ? new Times() : times);
      }
      bare.stop();
      times.print(name);
    }
  }

  /** A route that does nothing but write one row. */
  private static Javalin bare(Database database) {
    database.dsl().execute("create table bare_row (id bigint primary key, said varchar(200) not null)");
    AtomicLong next = new AtomicLong();
    return Javalin.create(
            config -> {
              config.startup.showJavalinBanner = false;
              config.routes.post(
                  "/row",
                  ctx -> {
                    String said = ctx.formParam("answer");
                    database.dsl().execute("insert into bare_row values (?, ?)", next.incrementAndGet(), said);
                    ctx.result("kept");
                  });
            })
        .start("127.0.0.1", 0);
  }

  /** Takes one drill in names to its end; before each answer the bare route writes a row. */
  private static void take(Browser apprentice, Browser bare, Times times) {
    Map<String, String> form = new HashMap<>(hidden(apprentice.get("/practise").body()));
    form.putAll(Map.of("assembly", "", "kind", "name", "length", "40"));
    String sitting = apprentice.post("/practise/self-test", form).location();
    String at = apprentice.get(sitting).location();
    while (!at.endsWith("/result")) {
      String path = at;
      Browser.Answer item = timed(times.item, () -> apprentice.get(path));
      timed(times.bare, () -> bare.post("/row", Map.of("answer", "third slide crook")));
      Map<String, String> answer = new HashMap<>(hidden(item.body()));
      answer.put("answer", "third slide crook");
      Browser.Answer sent = timed(times.sent, () -> apprentice.post(path, answer));
      if (sent.status() != 303) {
        throw new IllegalStateException("the answer was not taken: " + sent.status() + " " + sent.body());
      }
      timed(times.read, () -> apprentice.get(sent.location()));
      at = apprentice.get(sitting).location();
    }
  }

  private static Map<String, String> hidden(String page) {
    Map<String, String> fields = new HashMap<>();
    Matcher field = HIDDEN.matcher(page);
    while (field.find()) {
      fields.putIfAbsent(field.group(1), field.group(2));
    }
    return fields;
  }

  private interface Step {
    Browser.Answer take();
  }

  private static Browser.Answer timed(List<Long> times, Step step) {
    long start = System.nanoTime();
    Browser.Answer answer = step.take();
    times.add(System.nanoTime() - start);
    return answer;
  }

  /** Nanoseconds of each step, in the order in which they were taken. */
  private static final class Times {
    private final List<Long> bare = new ArrayList<>();
    private final List<Long> item = new ArrayList<>();
    private final List<Long> sent = new ArrayList<>();
    private final List<Long> read = new ArrayList<>();

    private void print(String name) {
      List<Long> both = new ArrayList<>();
      for (int i = 0; i < sent.size(); i++) {
        both.add(sent.get(i) + read.get(i));
      }
      System.out.printf(
          Locale.ROOT,
          "%s, medians of %d: bare row %.2f ms; send %.2f ms (%.1f times), page that follows %.2f ms, "
              + "both %.2f ms (%.1f times); next item %.2f ms%n",
          name, both.size(), median(bare), median(sent), median(sent) / median(bare), median(read), median(both),
          median(both) / median(bare), median(item));
    }

    private static double median(List<Long> nanos) {
      List<Long> sorted = new ArrayList<>(nanos);
      Collections.sort(sorted);
      return sorted.get(sorted.size() / 2) / 1e6;
    }
  }
}
