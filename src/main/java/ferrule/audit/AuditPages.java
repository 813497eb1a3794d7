package ferrule.audit;

import ferrule.people.Cohort;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.report.table.Kind;
import ferrule.report.table.Table;
import ferrule.report.table.TableDefinition;
import ferrule.report.table.TablePages;
import ferrule.web.Access;
import ferrule.web.Page;
import ferrule.web.Pages;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.time.format.DateTimeParseException;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** Where a coordinator reads who saw or changed what, and where apprentices read who looked at what is theirs. */
public final class AuditPages implements Pages {

  private static final int ON_A_PAGE = 50;
  private static final int IN_A_FILE = 20_000;
  private static final int MOST_NAMES = 500;
  private static final UUID NOBODY = new UUID(0, 0);
  private static final Instant EVER = Instant.parse("9000-01-01T00:00:00Z");

  /** The trail as a table. */
  static final TableDefinition<Line> TRAIL =
      TableDefinition.<Line>of("trail", "Who saw or changed what", "Something that somebody saw or changed.")
          .with("when", Kind.INSTANT, "When the request came.", l -> l.entry().at())
          .with("who", Kind.TEXT, "Who did it; “nobody” where nobody was signed in.", Line::who)
          .with("role", Kind.TEXT, "Their role then.", l -> l.entry().role())
          .with("what", Kind.TEXT, "What it was.", Line::what)
          .with("about", Kind.TEXT, "The person or the cohort that it was about.", Line::about)
          .with("outcome", Kind.TEXT, "Done, refused, failed, or begun and nothing known of its end.", l -> l.entry().outcome())
          .with("from", Kind.TEXT, "The network address.", l -> l.entry().address())
          .inFiles("kind", Kind.TEXT, "Saw, changed, or signed-in.", l -> l.entry().kind())
          .inFiles("route", Kind.TEXT, "The route of the program.", l -> l.entry().route())
          .inFiles("thing", Kind.TEXT, "Ids that the address names.", l -> l.entry().thing())
          .inFiles("request", Kind.TEXT, "By which the request is found in the server's log.", l -> l.entry().request());

  /** A line with its names and words. */
  record Line(Entry entry, String when, String who, String what, String about) {

    /** Its place among the states of a tag. */
    public String state() {
      return switch (entry.outcome()) {
        case "done" -> "good";
        case "refused", "begun" -> "open";
        default -> "bad";
      };
    }
  }

  private final AuditTrail trail;
  private final AuditStore store;
  private final PeopleStore people;
  private final Clock clock;
  private final ZoneId zone;
  private final DateTimeFormatter moment;
  private final Meanings meanings = Meanings.bundled();

  /**
   * The pages.
   *
   * @param zone the school's, in which times are shown
   */
  public AuditPages(AuditTrail trail, AuditStore store, PeopleStore people, Clock clock, ZoneId zone) {
    this.trail = trail;
    this.store = store;
    this.people = people;
    this.clock = clock;
    this.zone = zone;
    this.moment = DateTimeFormatter.ofPattern("d MMM uuuu, HH:mm:ss", Locale.ENGLISH).withZone(zone);
  }

  @Override
  public void routes(RoutesConfig routes) {
    routes.get("/trail", this::show, Access.COORDINATOR);
    TablePages.offer(routes, "/trail", this::table, Access.COORDINATOR);
    routes.get("/seen", this::showOwn, Access.APPRENTICE);
  }

  // --- a coordinator's ---

  private void show(Context ctx) {
    List<Line> lines = lines(question(ctx, ON_A_PAGE + 1));
    Map<String, Object> model = new HashMap<>();
    model.put("lines", lines.stream().limit(ON_A_PAGE).toList());
    model.put("older", older(ctx, lines));
    model.put("first", Visit.queryText(ctx, "before").isEmpty());
    model.put("about", asked(ctx, "about"));
    model.put("by", asked(ctx, "by"));
    model.put("kind", Visit.queryText(ctx, "kind").orElse(""));
    model.put("day", day(ctx).map(LocalDate::toString).orElse(""));
    model.put("names", names());
    model.put("zone", zone.getId());
    model.put("most", IN_A_FILE);
    model.put("files", TablePages.files("/trail", filters(ctx, Optional.empty())));
    Page.show(ctx, "audit/trail", model);
  }

  private Table table(Context ctx) {
    return TRAIL.of(lines(question(ctx, IN_A_FILE)), LocalDate.ofInstant(clock.instant(), zone).toString());
  }

  private static String older(Context ctx, List<Line> lines) {
    if (lines.size() <= ON_A_PAGE) {
      return "";
    }
    Entry last = lines.get(ON_A_PAGE - 1).entry();
    return "/trail" + filters(ctx, Optional.of(new Question.Key(last.at(), last.id())));
  }

  /** The filters of this page as a query, with where to go on. */
  private static String filters(Context ctx, Optional<Question.Key> before) {
    String query = Stream.concat(
            Stream.of("about", "by", "kind", "day")
                .flatMap(name -> Visit.queryText(ctx, name).map(value -> name + "=" + encoded(value)).stream()),
            before.map(key -> "before=" + encoded(key.toString())).stream())
        .collect(Collectors.joining("&"));
    return query.isEmpty() ? "" : "?" + query;
  }

  private static String encoded(String text) {
    return URLEncoder.encode(text, StandardCharsets.UTF_8);
  }

  private Question question(Context ctx, int most) {
    List<UUID> about = id(ctx, "about").map(this::withCohorts).orElse(List.of());
    Optional<LocalDate> day = day(ctx);
    return new Question(
        about, id(ctx, "by"), Optional.empty(),
        Visit.queryText(ctx, "kind").filter(Set.of("saw", "changed", "signed-in")::contains).map(Set::of).orElse(Set.of()),
        day.map(d -> d.atStartOfDay(zone).toInstant()).orElse(Instant.EPOCH),
        day.map(d -> d.plusDays(1).atStartOfDay(zone).toInstant()).orElse(EVER),
        Visit.queryText(ctx, "before").flatMap(Question.Key::parse), most);
  }

  /** Whom a filter asks for: by their id, their full name or the name by which they sign in; nobody if it is no one's. */
  private Optional<UUID> id(Context ctx, String name) {
    return Visit.queryText(ctx, name).map(text -> Visit.uuid(text).or(() -> store.named(text)).orElse(NOBODY));
  }

  private String asked(Context ctx, String name) {
    Optional<UUID> id = id(ctx, name);
    return id.flatMap(people::person).map(Person::fullName).or(() -> Visit.queryText(ctx, name)).orElse("");
  }

  /** To choose from while that is not too long a list. */
  private List<String> names() {
    List<String> all = Stream.of(Role.values()).flatMap(r -> people.inRole(r).stream()).map(Person::fullName).toList();
    return all.size() <= MOST_NAMES ? all : List.of();
  }

  private static Optional<LocalDate> day(Context ctx) {
    try {
      // the day after the last that Java knows is none
      return Visit.queryText(ctx, "day").map(LocalDate::parse).filter(d -> d.getYear() >= 1 && d.getYear() <= 9999);
    } catch (DateTimeParseException e) {
      return Optional.empty();
    }
  }

  /** A person and the cohorts that they are or were in: a page of the whole class shows them too. */
  private List<UUID> withCohorts(UUID person) {
    return Stream.concat(Stream.of(person), people.cohortsOf(person).stream().map(Cohort::id)).toList();
  }

  private List<Line> lines(Question question) {
    trail.flush();
    List<Entry> found = store.find(question);
    Map<UUID, String> names =
        store.names(found.stream().flatMap(e -> Stream.concat(e.who().stream(), e.about().stream())).toList());
    return found.stream().map(e -> new Line(
        e, moment.format(e.at()),
        e.who().map(id -> names.getOrDefault(id, "somebody who is not here any more")).orElse("nobody"),
        words(e.route()), e.about().map(id -> names.getOrDefault(id, "somebody who is not here any more")).orElse(""))).toList();
  }

  private String words(String route) {
    String words = meanings.of(route).words();
    return words.isEmpty() ? route : words;
  }

  // --- an apprentice's own ---

  private void showOwn(Context ctx) {
    Person me = Visit.person(ctx);
    List<Line> lines = lines(new Question(
        withCohorts(me.id()), Optional.empty(), Optional.of(me.id()), Set.of(), Instant.EPOCH, EVER,
        Visit.queryText(ctx, "before").flatMap(Question.Key::parse), ON_A_PAGE + 1));
    Map<String, Object> model = new HashMap<>();
    model.put("lines", lines.stream().limit(ON_A_PAGE).toList());
    model.put("cohorts", people.cohortsOf(me.id()).stream().map(Cohort::title).toList());
    model.put("older", lines.size() <= ON_A_PAGE ? ""
        : "/seen?before=" + encoded(
            new Question.Key(lines.get(ON_A_PAGE - 1).entry().at(), lines.get(ON_A_PAGE - 1).entry().id()).toString()));
    Page.show(ctx, "audit/seen", model);
  }
}
