package ferrule.app;

import ferrule.bench.BenchStore;
import ferrule.bench.Entries;
import ferrule.bench.TaskId;
import ferrule.people.PeopleStore;
import ferrule.people.Secrets;
import ferrule.site.Site;
import ferrule.store.Database;
import ferrule.web.WebServer;
import java.time.Clock;
import java.time.Duration;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Supplier;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jooq.impl.DSL;

/**
 * Real things of the demo programme to stand in the paths of routes: Wren's where an apprentice has it, Isolde's where an
 * instructor has it. Those that a form uses up are made anew each time.
 */
final class ThingsInPaths {

  private static final Pattern PARAMETER = Pattern.compile("\\{([^}]+)}");
  /** Parts of paths that are the same at every site: what the curriculum names, and places within a thing. */
  private static final Pattern COMMON = Pattern.compile(
      "/programme/editions/.*|/instrument/.*|/procedures/.*|.*/\\{letter}|.*/\\{position}");

  private final Database database;
  private final Map<String, Supplier<String>> things = new HashMap<>();
  /** What has to be asked beside the path. */
  private final Map<String, String> questions;

  /** Things of this site, which holds the demo programme. */
  ThingsInPaths(Site site, Installation demo) {
    this.database = demo.database();
    PeopleStore people = demo.people();
    BenchStore bench = new BenchStore(database, Clock.systemUTC());
    UUID wren = DemoProgramme.id("Wren Aldous");
    UUID isolde = DemoProgramme.id("Isolde Farrow");
    Books books = demo.books();
    TaskId task = books.tasks().all().get(0).id();

    this.questions = Map.of(
        "/programme/change", "?edition=" + books.programme().edition() + "&cohort=" + DemoProgramme.id("first year"));
    put("/record/{id}", wren::toString);
    put("/prior-learning/{id}", () -> priorLearning(wren, isolde));
    put("/hours/{id}", () -> one("select id from bench_hours fetch first 1 rows only"));
    put("/my-links/{id}", () -> link(wren, Secrets.token()));
    put("/shared/{token}", () -> shared(wren));
    put("/first-coordinator/{token}", () -> last(WebServer.firstCoordinatorPath(site, people, Duration.ofHours(1))));
    put("/invitation/{token}", () -> people.invite(DemoProgramme.id("Lio Haverford"), Duration.ofHours(1)));
    put("/tablet/{id}", wren::toString);
    put("/account/tablets/{id}", () -> people.tablets().find(people.tablets().make("Bench", isolde)).orElseThrow().id()
        .toString());
    String sitting = one("select s.id from drill_sitting s join drill_response r on r.sitting_id = s.id where s.person_id = '"
        + wren + "' fetch first 1 rows only");
    put("/drill/{sitting}", () -> sitting);
    put("/drill/{sitting}/{position}", () -> "1");
    String assignment = one("select assignment_id from drill_sitting where person_id = '" + wren
        + "' and assignment_id is not null fetch first 1 rows only");
    put("/practise/drills/{id}", () -> assignment);
    put("/practise/changes/{id}", () -> change(wren));
    put("/class/drills/{id}", () -> assignment);
    put("/class/sittings/{id}", () -> sitting);
    put("/class/rulings/{id}", () -> ruling(books, isolde));
    put("/class/paper/{id}", () -> one("select id from paper_sheet fetch first 1 rows only"));
    put("/class/paper/{id}/{letter}", () -> "A");
    put("/class/paper/{id}/scores/{person}", wren::toString);
    put("/people/{id}", () -> DemoProgramme.id("Zeb Kowal").toString());
    put("/bundles/{id}", this::bundle);
    put("/cohorts/{id}", () -> DemoProgramme.id("first year").toString());
    put("/cohorts/{id}/questions/{part}", () -> one("select i.part from drill_item i join drill_response r on "
        + "r.sitting_id = i.sitting_id fetch first 1 rows only"));
    put("/programme/editions/{edition}", books.programme()::edition);
    put("/instrument/plate/{view}", () -> books.studio().views().get(0).id());
    put("/instrument/{part}", () -> books.studio().views().stream().flatMap(v -> v.assembly().stream()).findFirst()
        .orElseThrow().value());
    put("/procedures/{id}", () -> books.procedures().procedures().get(0).id().value());
    put("/bench/records/{id}", () -> one("select id from record_log where subject_id = '" + wren
        + "' and kind = 'sign-off' order by number desc fetch first 1 rows only"));
    put("/bench/photos/{sha256}", () -> photo(wren));
    put("/bench/drafts/{id}", () -> bench.open(
        isolde, wren, task, "T-" + UUID.randomUUID().toString().substring(0, 8), Entries.none(), Optional.empty()).id()
        .toString());
    put("/bench/drafts/{id}/photos/{sha256}", () -> photo(wren));
    put("/bench/groups/{id}", () -> {
      UUID group = UUID.randomUUID();
      bench.openInGroup(group, isolde, wren, task, "G-1", Entries.none());
      return group.toString();
    });
    put("/bench/queue/{id}", () -> checkRequest(wren, task));
    put("/bench/along/{device}", () -> device(isolde));
    put("/ready/{id}", () -> checkRequest(wren, task));
    put("/bench/instruments/{id}", () -> one("select id from loan_instrument fetch first 1 rows only"));
    put("/bench/authority/{id}", () -> DemoProgramme.id("Tobias Renn").toString());
  }

  /** One that is done: it can be fetched, and it is too late to cancel it. */
  private String bundle() {
    UUID id = UUID.randomUUID();
    database.dsl().execute(
        "insert into long_work (id, as_of, asked_by, asked_at, state, file_name) "
            + "values (?, date '2026-11-25', ?, current_timestamp, 'done', 'bundle.zip')",
        id, DemoProgramme.id("Magnus Thorley"));
    return id.toString();
  }

  private void put(String upTo, Supplier<String> thing) {
    things.put(upTo, thing);
  }

  /** A path of this route that leads to a thing that is there. */
  String path(String route) {
    Matcher parameter = PARAMETER.matcher(route);
    StringBuilder path = new StringBuilder();
    while (parameter.find()) {
      String upTo = route.substring(0, parameter.end());
      Supplier<String> thing = things.get(upTo);
      if (thing == null) {
        throw new AssertionError("say in ThingsInPaths what stands for the last parameter of " + upTo);
      }
      parameter.appendReplacement(path, Matcher.quoteReplacement(thing.get()));
    }
    return parameter.appendTail(path) + questions.getOrDefault(route, "");
  }

  /** Whether a route's path names a thing that only one site has. */
  static boolean namesAThing(String route) {
    Matcher parameter = PARAMETER.matcher(route);
    while (parameter.find()) {
      if (!COMMON.matcher(route.substring(0, parameter.end())).matches()) {
        return true;
      }
    }
    return false;
  }

  private String one(String sql) {
    Object found = database.dsl().fetchValue(sql);
    if (found == null) {
      throw new AssertionError("the demo programme has none: " + sql);
    }
    return found.toString();
  }

  private static String last(String path) {
    return path.substring(path.lastIndexOf('/') + 1);
  }

  private String priorLearning(UUID apprentice, UUID by) {
    UUID id = UUID.randomUUID();
    database.dsl().execute("insert into equivalence (id, apprentice_id, competency, reason, granted_by, granted_at) "
        + "values (?, ?, 'soft-soldering', 'Invented', ?, current_timestamp)", id, apprentice, by);
    return id.toString();
  }

  private String link(UUID person, String token) {
    UUID id = UUID.randomUUID();
    database.dsl().execute("insert into record_link (id, token_hash, person_id, purpose, made_at, expires_at) "
        + "values (?, ?, ?, 'Invented', current_timestamp, current_timestamp + interval '1' hour)",
        id, Secrets.digest(token), person);
    return id.toString();
  }

  private String shared(UUID person) {
    String token = Secrets.token();
    link(person, token);
    return token;
  }

  private String change(UUID person) {
    UUID id = UUID.randomUUID();
    UUID response = UUID.fromString(one("select r.id from drill_response r join drill_sitting s on s.id = r.sitting_id "
        + "where s.person_id = '" + person + "' fetch first 1 rows only"));
    int ordinal = database.dsl().fetchCount(DSL.table("drill_regrade")) + 100;
    database.dsl().execute("insert into drill_regrade (id, response_id, ordinal, verdict, credit, reason, regraded_at) "
        + "values (?, ?, ?, 'paper-right', 1, 'Invented', current_timestamp)", id, response, ordinal);
    return id.toString();
  }

  private String ruling(Books books, UUID by) {
    UUID id = UUID.randomUUID();
    String typed = "word" + id.toString().replaceAll("[^a-f]", "");
    String part = books.studio().views().stream().flatMap(v -> v.assembly().stream()).findFirst().orElseThrow().value();
    database.dsl().execute("insert into drill_ruling "
        + "(id, glossary, edition, part, typed, phrase, decision, reason, ruled_by, ruled_at) "
        + "values (?, ?, ?, ?, ?, ?, 'not-accepted', 'Invented', ?, current_timestamp)",
        id, books.glossary().id(), books.edition(), part, typed, typed, by);
    return id.toString();
  }

  private String device(UUID person) {
    UUID id = UUID.randomUUID();
    database.dsl().execute("insert into known_device (id, person_id, opened_at, verify_key, open_key, seal_key) "
        + "values (?, ?, current_timestamp, '', '', '')", id, person);
    return id.toString();
  }

  private String photo(UUID apprentice) {
    String sha256 = Secrets.digest(Secrets.token());
    UUID draft = UUID.fromString(one(
        "select id from grade_draft where apprentice_id = '" + apprentice + "' fetch first 1 rows only"));
    database.dsl().execute("insert into photo (id, draft_id, sha256, width, height, jpeg, added_at) "
        + "values (?, ?, ?, 1, 1, ?, current_timestamp)",
        UUID.randomUUID(), draft, sha256, new byte[] {1});
    return sha256;
  }

  private String checkRequest(UUID apprentice, TaskId task) {
    UUID id = UUID.randomUUID();
    database.dsl().execute("insert into check_request (id, apprentice_id, task_id, tag, asked_at) "
        + "values (?, ?, ?, ?, current_timestamp)",
        id, apprentice, task.value(), "Q-" + id.toString().substring(0, 8));
    return id.toString();
  }
}
