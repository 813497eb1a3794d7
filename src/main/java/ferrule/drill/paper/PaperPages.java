package ferrule.drill.paper;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.ObjectMapper;
import ferrule.drawing.Studio;
import ferrule.drill.Answer;
import ferrule.drill.Assignment;
import ferrule.drill.Calendar;
import ferrule.drill.DrillPages;
import ferrule.drill.DrillStore;
import ferrule.drill.Item;
import ferrule.drill.ItemKind;
import ferrule.drill.MixUp;
import ferrule.drill.PartNames;
import ferrule.drill.Plan;
import ferrule.drill.Response;
import ferrule.drill.ResponseView;
import ferrule.drill.Sitting;
import ferrule.drill.SittingSummary;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import ferrule.people.Cohort;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.web.Access;
import ferrule.web.Page;
import ferrule.web.Pages;
import ferrule.web.Paper;
import ferrule.web.Refusal;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.attribute.FileTime;
import java.security.SecureRandom;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.LongSupplier;
import java.util.stream.Stream;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;

/** The instructor's pages for worksheets: making, printing, and entering what was written. */
public final class PaperPages implements Pages {

  private static final ObjectMapper JSON = new ObjectMapper();
  private static final LocalTime MIDDAY = LocalTime.NOON;

  private final PeopleStore people;
  private final DrillStore drills;
  private final PaperStore store;
  private final DrillPages drillPages;
  private final Desk desk;
  private final Marking marking;
  private final PartNames names;
  private final String edition;
  private final Calendar calendar;
  private final LongSupplier seeds = new SecureRandom()::nextLong;

  /**
   * The pages over these stores.
   *
   * @param drillPages whose drawings and rulings hold here too
   * @param edition the edition of the curriculum that worksheets are drawn from
   * @param zone the school's zone, for the day on which a paper was written
   */
  public PaperPages(
      PeopleStore people,
      DrillStore drills,
      PaperStore store,
      DrillPages drillPages,
      Glossary glossary,
      Studio studio,
      String edition,
      Clock clock,
      ZoneId zone) {
    this.people = people;
    this.drills = drills;
    this.store = store;
    this.drillPages = drillPages;
    this.desk = new Desk(studio, drillPages.pictures(), glossary);
    this.marking = new Marking(drillPages.pictures(), drillPages.marker(), glossary);
    this.names = new PartNames(glossary);
    this.edition = edition;
    this.calendar = new Calendar(clock, zone);
  }

  @Override
  public void routes(RoutesConfig routes) {
    routes.get("/class/paper", this::list, Access.INSTRUCTOR);
    routes.get("/class/paper/new", this::showForm, Access.INSTRUCTOR);
    routes.post("/class/paper", this::make, Access.INSTRUCTOR);
    routes.get("/class/paper/{id}", this::worksheet, Access.INSTRUCTOR);
    routes.get("/class/paper/{id}/all", this::all, Access.INSTRUCTOR);
    routes.get("/class/paper/{id}/{letter}/worksheet", ctx -> print(ctx, false), Access.INSTRUCTOR);
    routes.get("/class/paper/{id}/{letter}/key", ctx -> print(ctx, true), Access.INSTRUCTOR);
    routes.get("/class/paper/{id}/{letter}/worksheet.pdf", ctx -> send(ctx, false), Access.INSTRUCTOR);
    routes.get("/class/paper/{id}/{letter}/key.pdf", ctx -> send(ctx, true), Access.INSTRUCTOR);
    routes.get("/class/paper/{id}/scores/{person}", this::scores, Access.INSTRUCTOR);
    routes.post("/class/paper/{id}/scores/{person}/version", this::begin, Access.INSTRUCTOR);
    routes.post("/class/paper/{id}/scores/{person}/tap", this::tap, Access.INSTRUCTOR);
    routes.post("/class/paper/{id}/scores/{person}/rest", this::rest, Access.INSTRUCTOR);
    routes.post("/class/paper/{id}/scores/{person}/undo", this::undo, Access.INSTRUCTOR);
    routes.post("/class/paper/{id}/scores/{person}/enter", this::enter, Access.INSTRUCTOR);
    routes.post("/class/paper/{id}/scores/{person}/correct", this::correct, Access.INSTRUCTOR);
  }

  /** A size of paper to choose. */
  record SizeChoice(String word, String name) {

    static final List<SizeChoice> ALL =
        List.of(new SizeChoice(Paper.Size.A4.word(), "A4"), new SizeChoice(Paper.Size.LETTER.word(), "Letter"));
  }

  // -- making

  /** A worksheet in the list. */
  record ListRow(UUID id, String title, String cohort, int versions, int length, String made, int entered, int members) {}

  private void list(Context ctx) {
    Page.show(
        ctx,
        "drill/paper/list",
        Map.of(
            "sheets", store.worksheets().stream().map(this::row).toList(),
            "hasCohorts", !people.cohorts().isEmpty()));
  }

  private ListRow row(Worksheet w) {
    return new ListRow(
        w.id(),
        w.title(),
        people.cohort(w.cohort()).map(Cohort::title).orElse(""),
        w.versions().size(),
        w.length(),
        calendar.moment(w.madeAt()),
        (int) store.scripts(w.id()).values().stream().filter(Script::isEntered).count(),
        writers(w).size());
  }

  private void showForm(Context ctx) {
    Optional<Assignment> drill = Visit.queryText(ctx, "drill").flatMap(PaperForm::id).flatMap(drills.assignments()::find);
    Optional<UUID> cohort = people.cohorts().stream().findFirst().map(Cohort::id);
    // the line that stood on the last worksheet is the school's, most likely
    String school = store.worksheets().stream().findFirst().map(Worksheet::school).orElse("");
    showForm(ctx, PaperForm.blank(drill.map(Assignment::id), cohort, school), List.of());
  }

  /** An assembly or a way of asking, to pick. */
  record Choice(String id, String words, boolean chosen) {}

  // on paper nothing is typed, pointed at or lit
  private static String onPaper(ItemKind kind) {
    return switch (kind) {
      case NAME -> "Name the numbered parts";
      case FIND -> "Find the named parts and number them";
      case CHOOSE_NAME -> "Tick the name of a numbered part, among four";
      default -> kind.title();
    };
  }

  private void showForm(Context ctx, PaperForm form, List<String> problems) {
    Map<String, Object> model = new HashMap<>();
    model.put("form", form);
    model.put("problems", problems);
    model.put("drillTitle", PaperForm.id(form.drill()).flatMap(drills.assignments()::find).map(Assignment::title).orElse(""));
    model.put(
        "assemblies",
        drillPages.drills().bank().assemblies().stream()
            .map(a -> new Choice(a.value(), PartNames.capital(names.scope(a)), form.assemblies().contains(a)))
            .toList());
    model.put(
        "kinds",
        drillPages.drills().bank().kinds().stream()
            .map(k -> new Choice(k.word(), onPaper(k), form.kinds().contains(k)))
            .toList());
    model.put("cohorts", people.cohorts());
    model.put("longest", Plan.LONGEST);
    model.put("longestTitle", Worksheet.LONGEST_TITLE);
    model.put("mostVersions", Worksheet.MOST_VERSIONS);
    Page.show(ctx, "drill/paper/new", model);
  }

  private void make(Context ctx) {
    PaperForm form = PaperForm.of(ctx.formParamMap());
    List<String> problems = form.problems(drillPages.drills().bank(), people.cohorts());
    if (!problems.isEmpty()) {
      ctx.status(400);
      showForm(ctx, form, problems);
      return;
    }
    Optional<Assignment> drill = PaperForm.id(form.drill()).flatMap(drills.assignments()::find);
    if (!form.drill().isEmpty() && drill.isEmpty()) {
      throw Refusal.notFound("There is no such drill. The list of drills is under Class.");
    }
    Plan plan = drill.map(Assignment::plan).orElseGet(() -> form.plan(drillPages.drills().bank()));
    long seed = seeds.getAsLong();
    List<Item> items = drillPages.drills().itemsInCommon(drill.map(Assignment::id), plan, seed);
    if (items.isEmpty()) {
      throw Refusal.invalid("Nothing can be asked in these ways about these assemblies. Pick others.");
    }
    Worksheet made =
        new Worksheet(
            UUID.randomUUID(),
            drill.map(Assignment::cohort).orElseGet(() -> PaperForm.id(form.cohort()).orElseThrow()),
            drill.map(Assignment::id),
            form.title().isEmpty() ? drill.map(Assignment::title).orElseGet(() -> proposed(plan)) : form.title(),
            form.school(),
            plan,
            seed,
            edition,
            Visit.person(ctx).id(),
            calendar.now(),
            desk.versions(items, form.versionCount(), seed));
    store.add(made);
    Page.goTo(ctx, "/class/paper/" + made.id(), "The worksheet is made. Print it, and hand the versions out in turn.");
  }

  private String proposed(Plan plan) {
    if (plan.assemblies().containsAll(drillPages.drills().bank().assemblies())) {
      return "Parts of the trumpet";
    }
    String scope = String.join(", ", plan.assemblies().stream().map((ConceptId a) -> names.scope(a)).toList());
    String title = "Parts: " + scope;
    return title.length() <= Worksheet.LONGEST_TITLE ? title : "Parts of " + plan.assemblies().size() + " assemblies";
  }

  // -- printing

  /** A version to print. */
  record VersionRow(String letter, String code) {}

  /** How far the entering of one apprentice's paper is. */
  record WriterRow(UUID person, String name, String state, String word, String version, String points, String sitting) {}

  /** One part taken for another, in words. */
  record MixUpRow(String asked, String takenFor, int times, int people) {}

  private void worksheet(Context ctx) {
    Worksheet w = find(ctx);
    Map<UUID, Script> scripts = store.scripts(w.id());
    List<UUID> sittings = scripts.values().stream().flatMap(s -> s.sitting().stream()).toList();
    Map<String, Object> model = new HashMap<>();
    model.put("sheet", row(w));
    model.put("fromDrill", w.assignment().map(UUID::toString).orElse(""));
    model.put("versions", w.versions().stream().map(v -> new VersionRow(v.letter(), w.code(v))).toList());
    model.put("sizes", SizeChoice.ALL);
    model.put("preview", desk.worksheet(w, w.versions().get(0), Sections.Medium.PAGE).get("sections"));
    model.put("writers", writers(w).stream().map(p -> writer(w, p, Optional.ofNullable(scripts.get(p.id())))).toList());
    model.put("next", nextToEnter(w, scripts, Optional.empty()).map(p -> p.id().toString()).orElse(""));
    model.put("mixUps", drills.mixUpsIn(sittings).stream().map(this::row).toList());
    Page.show(ctx, "drill/paper/worksheet-page", model);
  }

  private MixUpRow row(MixUp m) {
    return new MixUpRow(names.heading(m.asked()), names.term(m.takenFor()), m.times(), m.people());
  }

  private WriterRow writer(Worksheet w, Person p, Optional<Script> script) {
    if (script.isEmpty()) {
      return new WriterRow(p.id(), p.fullName(), "", "Not entered", "", "", "");
    }
    Script s = script.get();
    if (!s.isEntered()) {
      String word = s.taps().size() + " of " + w.length() + " marked";
      return new WriterRow(p.id(), p.fullName(), "open", word, s.version(), "", "");
    }
    String points = drills.summary(s.sitting().orElseThrow()).map(SittingSummary::credit).map(ResponseView::points).orElse("");
    return new WriterRow(
        p.id(), p.fullName(), "good", "Entered", s.version(), points, s.sitting().orElseThrow().toString());
  }

  private void print(Context ctx, boolean key) {
    Worksheet w = find(ctx);
    Version v = version(ctx, w);
    Map<String, Object> model =
        new HashMap<>(key ? desk.key(w, v, Sections.Medium.PAGE) : desk.worksheet(w, v, Sections.Medium.PAGE));
    String here = "/class/paper/" + w.id();
    model.put("sheetStyle", "");
    model.put("back", here);
    model.put("pdf", here + "/" + v.letter() + (key ? "/key.pdf" : "/worksheet.pdf"));
    model.put("sizes", SizeChoice.ALL);
    Page.show(ctx, key ? "drill/paper/key" : "drill/paper/worksheet", model);
  }

  private void send(Context ctx, boolean key) {
    Worksheet w = find(ctx);
    Version v = version(ctx, w);
    ctx.header("Content-Disposition", "inline; filename=\"" + fileName(w, v, key) + "\"");
    ctx.contentType("application/pdf");
    ctx.result(pdf(w, v, key, size(ctx)));
  }

  private byte[] pdf(Worksheet w, Version v, boolean key, Paper.Size size) {
    return key
        ? Paper.pdf("drill/paper/key", desk.key(w, v, Sections.Medium.PDF), size, w.madeAt())
        : Paper.pdf("drill/paper/worksheet", desk.worksheet(w, v, Sections.Medium.PDF), size, w.madeAt());
  }

  private static String fileName(Worksheet w, Version v, boolean key) {
    return Paper.plain(w.title() + " " + w.code(v) + (key ? " key" : "")) + ".pdf";
  }

  private static Paper.Size size(Context ctx) {
    return Paper.Size.parse(Visit.queryText(ctx, "size").orElse(""));
  }

  private void all(Context ctx) {
    Worksheet w = find(ctx);
    Paper.Size size = size(ctx);
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    try (ZipOutputStream zip = new ZipOutputStream(out)) {
      for (Version v : w.versions()) {
        for (boolean key : new boolean[] {false, true}) {
          ZipEntry entry = new ZipEntry(fileName(w, v, key));
          entry.setLastModifiedTime(FileTime.from(w.madeAt()));
          zip.putNextEntry(entry);
          zip.write(pdf(w, v, key, size));
          zip.closeEntry();
        }
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    ctx.header("Content-Disposition", "attachment; filename=\"" + Paper.plain(w.title()) + ".zip\"");
    ctx.contentType("application/zip");
    ctx.result(out.toByteArray());
  }

  // -- entering

  /** Who writes it: the members of its cohort, and those who left but whose paper has been begun. */
  private List<Person> writers(Worksheet w) {
    List<Person> writers = new ArrayList<>(people.members(w.cohort()));
    Map<UUID, Script> scripts = store.scripts(w.id());
    people.membersEver(w.cohort()).stream()
        .filter(p -> scripts.containsKey(p.id()) && writers.stream().noneMatch(x -> x.id().equals(p.id())))
        .forEach(writers::add);
    return writers;
  }

  /** The next whose paper is not entered, after this person and round from the beginning. */
  private Optional<Person> nextToEnter(Worksheet w, Map<UUID, Script> scripts, Optional<UUID> after) {
    List<Person> writers = writers(w);
    int from = 0;
    for (int i = 0; i < writers.size(); i++) {
      from = after.filter(writers.get(i).id()::equals).isPresent() ? i + 1 : from;
    }
    return Stream.concat(writers.subList(from, writers.size()).stream(), writers.subList(0, from).stream())
        .filter(p -> after.filter(p.id()::equals).isEmpty())
        .filter(p -> Optional.ofNullable(scripts.get(p.id())).filter(Script::isEntered).isEmpty())
        .findFirst();
  }

  private void scores(Context ctx) {
    Worksheet w = find(ctx);
    Person person = writer(ctx, w);
    Map<UUID, Script> scripts = store.scripts(w.id());
    Optional<Script> script = Optional.ofNullable(scripts.get(person.id()));
    List<Person> writers = writers(w);
    int at = writers.stream().map(Person::id).toList().indexOf(person.id());
    Map<String, Object> model = new HashMap<>();
    model.put("sheet", row(w));
    model.put("who", person);
    model.put("versions", w.versions().stream().map(Version::letter).toList());
    model.put("version", script.map(Script::version).orElse(""));
    model.put("entered", script.filter(Script::isEntered).isPresent());
    model.put("enteredCount", scripts.values().stream().filter(Script::isEntered).count());
    model.put("writers", writers.size());
    model.put("place", at + 1);
    model.put("before", at > 0 ? writers.get(at - 1).id().toString() : "");
    model.put("after", at + 1 < writers.size() ? writers.get(at + 1).id().toString() : "");
    model.put("marks", Stream.of(Mark.values()).filter(m -> m != Mark.WRITTEN).toList());
    model.put("today", calendar.today().toString());
    // the papers of a class are written on one day: what was said for the last one is proposed for the next
    model.put(
        "taken",
        Visit.queryText(ctx, "taken").filter(t -> t.matches("\\d{4}-\\d\\d-\\d\\d")).orElse(calendar.today().toString()));
    model.put("longestName", Answer.LONGEST);
    model.put("enteredBy", script.flatMap(Script::enteredBy).flatMap(people::person).map(Person::fullName).orElse(""));
    model.put("enteredAt", script.flatMap(Script::enteredAt).map(calendar::moment).orElse(""));
    model.put("sitting", script.flatMap(Script::sitting).map(UUID::toString).orElse(""));
    script.ifPresent(s -> model.put("view", view(w, s)));
    model.putIfAbsent("view", new ScoreView(List.of(), 0, "0", 0));
    Page.show(ctx, "drill/paper/scores", model);
  }

  private ScoreView view(Worksheet w, Script s) {
    Map<Integer, Tap> taps = s.isEntered() ? store.entered(s.sitting().orElseThrow()) : s.taps();
    return ScoreView.of(w.version(s.version()).orElseThrow(), taps, s.steps(), w.plan(), marking, names);
  }

  private void begin(Context ctx) {
    Worksheet w = find(ctx);
    Person person = writer(ctx, w);
    String letter = Visit.formText(ctx, "version").orElse("");
    if (w.version(letter).isEmpty()) {
      throw Refusal.invalid("Choose the version that stands at the top right of the paper.");
    }
    if (!store.begin(w.id(), person.id(), letter)) {
      throw entered();
    }
    Page.goTo(ctx, address(w, person));
  }

  private void tap(Context ctx) {
    Worksheet w = find(ctx);
    Person person = writer(ctx, w);
    Script script = script(w, person);
    Tap tap = asked(ctx, version(w, script));
    answer(ctx, w, person, store.tap(w.id(), person.id(), List.of(tap), Visit.person(ctx).id(), calendar.now()), tap.number());
  }

  private void rest(Context ctx) {
    Worksheet w = find(ctx);
    Person person = writer(ctx, w);
    Script script = script(w, person);
    Mark mark =
        Visit.formText(ctx, "mark")
            .flatMap(Mark::find)
            .filter(m -> m != Mark.WRITTEN)
            .orElseThrow(() -> Refusal.invalid("Mark the rest right, half, wrong or blank."));
    List<Tap> taps =
        version(w, script).items().stream()
            .filter(item -> !script.taps().containsKey(item.position()))
            .map(item -> Marking.tap(item, mark))
            .toList();
    answer(ctx, w, person, store.tap(w.id(), person.id(), taps, Visit.person(ctx).id(), calendar.now()), 0);
  }

  private void undo(Context ctx) {
    Worksheet w = find(ctx);
    Person person = writer(ctx, w);
    script(w, person);
    answer(ctx, w, person, store.undo(w.id(), person.id()), 0);
  }

  /** Back to the page, or for its script what has changed. */
  private void answer(Context ctx, Worksheet w, Person person, Optional<Script> now, int number) {
    Script script = now.orElseThrow(PaperPages::entered);
    if (!"application/json".equals(ctx.header("Accept"))) {
      Page.goTo(ctx, address(w, person) + (number > 0 ? "#n" + number : "#end"));
      return;
    }
    try {
      ctx.contentType("application/json");
      ctx.result(JSON.writeValueAsString(view(w, script)));
    } catch (JsonProcessingException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** The tap that a form asks for. */
  private static Tap asked(Context ctx, Version version) {
    Item item =
        Visit.formText(ctx, "number")
            .filter(n -> n.matches("\\d{1,3}"))
            .flatMap(n -> version.item(Integer.parseInt(n)))
            .orElseThrow(() -> Refusal.invalid("There is no item with that number on this version."));
    String mark = Visit.formText(ctx, "mark").orElse("");
    Optional<Mark> tapped = Mark.find(mark).filter(m -> m != Mark.WRITTEN);
    boolean copied = mark.equals(Mark.WRITTEN.word());
    String written = copied ? Visit.formText(ctx, "written").orElse("") : Marking.isTicked(item) ? mark : "";
    return tapped
        .map(m -> Marking.tap(item, m))
        .or(() -> Marking.written(item, written))
        .orElseThrow(
            () -> Refusal.invalid("Mark it right, half, wrong or blank, tick a letter, or copy the name that was "
                + "written, with at most " + Answer.LONGEST + " characters."));
  }

  private void enter(Context ctx) {
    Worksheet w = find(ctx);
    Person person = writer(ctx, w);
    Script script = script(w, person);
    Version version = version(w, script);
    if (script.isEntered()) {
      throw entered();
    }
    if (script.taps().size() < version.items().size()) {
      throw Refusal.invalid(
          "Mark all items first: " + (version.items().size() - script.taps().size())
              + " are not marked. With one tap you can mark the rest right or blank.");
    }
    Instant at = calendar.now();
    Instant takenAt = takenAt(ctx, at);
    List<PaperStore.Entry> entries =
        version.items().stream()
            .map(
                item -> {
                  Tap tap = script.taps().get(item.position());
                  return new PaperStore.Entry(item, tap, marking.outcome(item, tap, w.plan().colloquial()));
                })
            .toList();
    Sitting sitting =
        new Sitting(
            UUID.randomUUID(), person.id(), w.assignment(), 1, w.title(), w.plan(), w.seed(), w.edition(), takenAt,
            version.items());
    if (!store.enter(w.id(), sitting, entries, Visit.person(ctx).id(), takenAt, at)) {
      throw entered();
    }
    String done = "Entered: the paper of " + person.fullName() + ".";
    Optional<Person> next = nextToEnter(w, store.scripts(w.id()), Optional.of(person.id()));
    Page.goTo(
        ctx,
        next.map(p -> address(w, p) + "?taken=" + LocalDate.ofInstant(takenAt, calendar.zone()))
            .orElse("/class/paper/" + w.id()),
        next.isPresent() ? done : done + " Every paper of this worksheet is entered now.");
  }

  private Instant takenAt(Context ctx, Instant now) {
    LocalDate day;
    try {
      day = LocalDate.parse(Visit.formText(ctx, "taken").orElse(calendar.today().toString()));
    } catch (DateTimeParseException e) {
      throw Refusal.invalid("Give the day on which the paper was written, such as " + calendar.today() + ".");
    }
    if (day.isAfter(calendar.today())) {
      throw Refusal.invalid("The paper cannot have been written after today. Give the day on which it was.");
    }
    return day.equals(calendar.today()) ? now : day.atTime(MIDDAY).atZone(calendar.zone()).toInstant();
  }

  private void correct(Context ctx) {
    Worksheet w = find(ctx);
    Person person = writer(ctx, w);
    Script script = script(w, person);
    Tap tap = asked(ctx, version(w, script));
    UUID sitting =
        script.sitting().orElseThrow(() -> Refusal.invalid("This paper is not entered yet. Just tap another mark."));
    Response response = drills.response(sitting, tap.number()).orElseThrow();
    boolean changed =
        store.correct(
            response, tap, marking.outcome(response.item(), tap, w.plan().colloquial()), Visit.person(ctx).id(),
            calendar.now());
    Page.goTo(
        ctx,
        address(w, person),
        changed
            ? "Number " + tap.number() + " is corrected. What was entered first stays on record, and "
                + person.fullName() + " is told."
            : "Number " + tap.number() + " counts that already. Nothing was changed.");
  }

  // -- finding

  private static String address(Worksheet w, Person person) {
    return "/class/paper/" + w.id() + "/scores/" + person.id();
  }

  private static Refusal entered() {
    return Refusal.conflict("This paper is entered already. Open it again to correct single answers.");
  }

  private Worksheet find(Context ctx) {
    return store
        .worksheet(Visit.id(ctx, "id"))
        .orElseThrow(() -> Refusal.notFound("There is no such worksheet. The list is under Class, On paper."));
  }

  private static Version version(Context ctx, Worksheet w) {
    return w.version(ctx.pathParam("letter"))
        .orElseThrow(() -> Refusal.notFound("This worksheet has no version " + ctx.pathParam("letter") + "."));
  }

  private static Version version(Worksheet w, Script script) {
    return w.version(script.version()).orElseThrow();
  }

  private Person writer(Context ctx, Worksheet w) {
    UUID id = Visit.id(ctx, "person");
    return writers(w).stream()
        .filter(p -> p.id().equals(id))
        .findFirst()
        .orElseThrow(() -> Refusal.notFound("Nobody of this cohort has that address."));
  }

  private Script script(Worksheet w, Person person) {
    return store
        .script(w.id(), person.id())
        .orElseThrow(() -> Refusal.invalid("First choose the version that stands at the top right of the paper."));
  }
}
