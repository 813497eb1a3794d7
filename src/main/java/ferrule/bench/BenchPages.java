package ferrule.bench;

import com.fasterxml.jackson.databind.ObjectMapper;
import ferrule.people.Cohort;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.people.Secrets;
import ferrule.web.Access;
import ferrule.web.NavEntry;
import ferrule.web.Page;
import ferrule.web.Pages;
import ferrule.web.Refusal;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;

/** Grading at the bench: choose, confirm the cautions, rate and measure, look at it in full, sign. */
public final class BenchPages implements Pages {

  private static final int LATEST = 12;
  private static final ObjectMapper JSON = new ObjectMapper();

  private final TaskBook tasks;
  private final BenchStore bench;
  private final RecordStore records;
  private final PeopleStore people;
  private final Moments moments;
  private final ZoneId zone;

  /**
   * The pages.
   *
   * @param tasks of the edition in use
   * @param zone the school's, in which times are shown and days end
   */
  public BenchPages(TaskBook tasks, BenchStore bench, RecordStore records, PeopleStore people, ZoneId zone) {
    this.tasks = tasks;
    this.bench = bench;
    this.records = records;
    this.people = people;
    this.moments = new Moments(zone);
    this.zone = zone;
  }

  @Override
  public List<NavEntry> nav() {
    return List.of(NavEntry.of("Bench", "/bench", 20, Access.INSTRUCTOR));
  }

  @Override
  public void routes(RoutesConfig routes) {
    routes.get("/bench", ctx -> showStart(ctx, ""), Access.INSTRUCTOR);
    routes.post("/bench/drafts", this::openDraft, Access.INSTRUCTOR);
    routes.get("/bench/drafts/{id}", this::showDraft, Access.INSTRUCTOR);
    routes.post("/bench/drafts/{id}", this::keepAndGoOn, Access.INSTRUCTOR);
    routes.post("/bench/drafts/{id}/cautions", this::confirmCautions, Access.INSTRUCTOR);
    routes.post("/bench/drafts/{id}/keep", this::keepQuietly, Access.INSTRUCTOR);
    routes.post("/bench/drafts/{id}/discard", this::discard, Access.INSTRUCTOR);
    routes.get("/bench/drafts/{id}/review", this::review, Access.INSTRUCTOR);
    routes.post("/bench/drafts/{id}/sign", this::sign, Access.INSTRUCTOR);
    routes.get("/bench/instruments", ctx -> showInstruments(ctx, ""), Access.INSTRUCTOR, Access.COORDINATOR);
    routes.post("/bench/instruments", this::addInstrument, Access.INSTRUCTOR, Access.COORDINATOR);
    routes.post("/bench/instruments/{id}/retire", this::retireInstrument, Access.INSTRUCTOR, Access.COORDINATOR);
  }

  /** The apprentices of one cohort, to choose from. */
  record Group(String title, List<Person> apprentices) {}

  /** An open draft in the list of those to go on with. */
  record DraftLine(UUID id, String apprentice, String task, String tag, String touched, String left, boolean corrects) {}

  /** A signed record in the list of the latest. */
  record RecordLine(UUID id, long number, String kind, String apprentice, String what, String tag, String standing,
      String signer, String at) {}

  private void showStart(Context ctx, String problem) {
    Person instructor = Visit.person(ctx);
    Map<String, Object> model = new HashMap<>();
    model.put("problem", problem);
    model.put("groups", groups());
    model.put("tasks", tasks.all());
    model.put("instruments", bench.instruments());
    model.put("chosenApprentice", chosen(ctx, "apprentice"));
    model.put("chosenTask", chosen(ctx, "task"));
    model.put("chosenTag", chosen(ctx, "tag"));
    model.put("drafts", bench.openDrafts(instructor.id()).stream().map(this::draftLine).toList());
    model.put("latest", records.latest(LATEST).stream().map(this::recordLine).toList());
    Page.show(ctx, "bench/start", model);
  }

  // after a problem the form's own fields, at first what a link names, such as the apprentice of a record
  private static String chosen(Context ctx, String name) {
    return Visit.formText(ctx, name).or(() -> Visit.queryText(ctx, name)).orElse("");
  }

  private List<Group> groups() {
    List<Group> groups = new ArrayList<>();
    Set<UUID> grouped = new LinkedHashSet<>();
    for (Cohort cohort : people.cohorts()) {
      List<Person> members = people.members(cohort.id()).stream().filter(p -> p.role() == Role.APPRENTICE).toList();
      members.forEach(p -> grouped.add(p.id()));
      groups.add(new Group(cohort.title(), members));
    }
    List<Person> others = people.inRole(Role.APPRENTICE).stream()
        .filter(p -> p.isPresent() && !grouped.contains(p.id()))
        .toList();
    groups.add(new Group("In no cohort", others));
    return groups.stream().filter(g -> !g.apprentices().isEmpty()).toList();
  }

  private DraftLine draftLine(Draft draft) {
    Optional<Task> task = tasks.find(draft.task());
    long open = task.map(t -> Grading.of(t, draft.entries()).openCount()).orElse(0L);
    String left = open == 0 ? "ready to sign" : open == 1 ? "1 criterion to go" : open + " criteria to go";
    return new DraftLine(
        draft.id(), nameOf(draft.apprentice()), task.map(Task::title).orElse(draft.task().value()), draft.tag(),
        moments.inWords(draft.updatedAt()), left, draft.corrects().isPresent());
  }

  private RecordLine recordLine(LoggedRecord entry) {
    BenchRecord record = entry.record();
    return new RecordLine(
        entry.id(), entry.number(), entry.kind(), record.apprenticeName(),
        record.grade().map(Grade::taskTitle).orElse(""), record.grade().map(Grade::tag).orElse(""),
        record.grade().map(g -> g.outcome().standing().word()).orElse("withdrawn"),
        record.signature().name(), moments.inWords(entry.at()));
  }

  private String nameOf(UUID person) {
    return people.person(person).map(Person::fullName).orElse("somebody who is not known any more");
  }

  private void openDraft(Context ctx) {
    Optional<Person> apprentice = Visit.formText(ctx, "apprentice").flatMap(this::apprentice);
    Optional<Task> task = Visit.formText(ctx, "task").flatMap(this::task);
    Optional<String> tag = Visit.formText(ctx, "tag").filter(this::isOnBench);
    if (apprentice.isEmpty() || task.isEmpty() || tag.isEmpty()) {
      ctx.status(422);
      showStart(ctx, "Choose the work, the apprentice and the instrument's tag. What you chose already is still marked.");
      return;
    }
    Draft draft = bench.open(
        Visit.person(ctx).id(), apprentice.get().id(), task.get().id(), tag.get(), Entries.none(), Optional.empty());
    Page.goTo(ctx, "/bench/drafts/" + draft.id());
  }

  private Optional<Person> apprentice(String id) {
    try {
      return people.person(UUID.fromString(id)).filter(p -> p.role() == Role.APPRENTICE && p.isPresent());
    } catch (IllegalArgumentException e) {
      return Optional.empty();
    }
  }

  private Optional<Task> task(String id) {
    return tasks.all().stream().filter(t -> t.id().value().equals(id)).findFirst();
  }

  private boolean isOnBench(String tag) {
    return bench.instruments().stream().anyMatch(i -> i.tag().equals(tag));
  }

  /** The instructor's own draft that the path names; refused if there is none. */
  private Draft draft(Context ctx) {
    return bench.draft(Visit.id(ctx, "id"))
        .filter(d -> d.instructor().equals(Visit.person(ctx).id()))
        .orElseThrow(() -> Refusal.notFound(
            "There is no such draft of yours. It may have been put aside; your open drafts are on the bench page."));
  }

  private Task taskOf(Draft draft) {
    return tasks.find(draft.task()).orElseThrow(() -> Refusal.notFound(
        "The task “" + draft.task() + "” is not in the curriculum any more, so that it cannot be graded."));
  }

  private void showDraft(Context ctx) {
    Draft draft = draft(ctx);
    if (draft.signedRecord().isPresent()) {
      Page.goTo(ctx, "/bench/records/" + draft.signedRecord().get());
      return;
    }
    if (draft.entries().cautionsConfirmed()) {
      showGrading(ctx, draft, false, "");
    } else {
      Page.show(ctx, "bench/before", headOf(draft, taskOf(draft)));
    }
  }

  private Map<String, Object> headOf(Draft draft, Task task) {
    Map<String, Object> model = new HashMap<>();
    model.put("draft", draft);
    model.put("task", task);
    model.put("apprentice", nameOf(draft.apprentice()));
    model.put("restsWith", tasks.restsWith());
    model.put("corrects", draft.corrects().isPresent());
    return model;
  }

  private void confirmCautions(Context ctx) {
    Draft draft = draft(ctx);
    keep(draft, draft.entries().withCautionsConfirmed());
    Page.goTo(ctx, "/bench/drafts/" + draft.id());
  }

  private void keep(Draft draft, Entries entries) {
    if (!bench.keep(draft.id(), entries)) {
      throw Refusal.conflict("This draft has been signed or put aside meanwhile, so that nothing was changed.");
    }
  }

  private void showGrading(Context ctx, Draft draft, boolean asked, String problem) {
    Task task = taskOf(draft);
    Grading grading = Grading.of(task, draft.entries());
    Map<String, Object> model = headOf(draft, task);
    model.put("lines", grading.lines().stream().map(l -> CriterionView.of(l, draft.entries())).toList());
    model.put("asked", asked);
    model.put("problem", problem);
    model.put("summary", summary(draft, grading));
    Page.show(ctx, "bench/grade", model);
  }

  private static String summary(Draft draft, Grading grading) {
    if (!grading.isComplete()) {
      long open = grading.openCount();
      return open == 1 ? "1 criterion to go." : open + " criteria to go.";
    }
    Outcome outcome = Outcome.of(grading.findings(), grading.task().passPercent());
    String reasonToo = draft.corrects().isPresent() && draft.entries().reason().isEmpty()
        ? " Say why you correct it." : "";
    return "All criteria are in. The work stands as: " + outcome.standing().word() + "." + reasonToo;
  }

  private Entries entered(Context ctx, Draft draft) {
    Map<String, Integer> levels = new LinkedHashMap<>();
    Map<String, String> readings = new LinkedHashMap<>();
    Map<String, String> lowers = new LinkedHashMap<>();
    Map<String, String> uppers = new LinkedHashMap<>();
    for (Criterion criterion : taskOf(draft).criteria()) {
      String id = criterion.id();
      Visit.formText(ctx, "level." + id).filter(t -> t.matches("[1-9]")).ifPresent(
          t -> levels.put(id, Integer.parseInt(t)));
      Visit.formText(ctx, "reading." + id).ifPresent(t -> readings.put(id, t));
      Visit.formText(ctx, "lower." + id).ifPresent(t -> lowers.put(id, t));
      Visit.formText(ctx, "upper." + id).ifPresent(t -> uppers.put(id, t));
    }
    return new Entries(
        draft.entries().cautionsConfirmed(), levels, readings, lowers, uppers,
        Visit.formText(ctx, "note").orElse(""), Visit.formText(ctx, "reason").orElse(""));
  }

  /** Keeps a draft in the background and answers with the verdict on each criterion. */
  private void keepQuietly(Context ctx) {
    Draft draft = draft(ctx);
    Entries entries = entered(ctx, draft);
    keep(draft, entries);
    Grading grading = Grading.of(taskOf(draft), entries);
    List<Map<String, String>> lines = grading.lines().stream()
        .map(l -> CriterionView.of(l, entries))
        .map(v -> Map.of("id", v.id(), "state", v.state(), "words", v.words()))
        .toList();
    ctx.contentType("application/json");
    ctx.result(JSON.valueToTree(Map.of("lines", lines, "summary", summary(draft(ctx), grading))).toString());
  }

  private void keepAndGoOn(Context ctx) {
    Draft draft = draft(ctx);
    keep(draft, entered(ctx, draft));
    if (!Visit.formText(ctx, "go").orElse("").equals("review")) {
      Page.goTo(ctx, "/bench", "The draft for " + nameOf(draft.apprentice()) + " is kept. Finish it when you like.");
      return;
    }
    Draft kept = draft(ctx);
    Optional<String> wanting = wanting(kept);
    if (wanting.isPresent()) {
      ctx.status(422);
      showGrading(ctx, kept, true, wanting.get());
    } else {
      Page.goTo(ctx, "/bench/drafts/" + draft.id() + "/review");
    }
  }

  /** What is still wanting before a draft can be signed, in a sentence. */
  private Optional<String> wanting(Draft draft) {
    if (!draft.entries().cautionsConfirmed()) {
      return Optional.of("The cautions have not been confirmed.");
    }
    Grading grading = Grading.of(taskOf(draft), draft.entries());
    if (!grading.isComplete()) {
      long open = grading.openCount();
      return Optional.of((open == 1 ? "One criterion is" : open + " criteria are")
          + " still open; each is marked below. What you entered is kept.");
    }
    boolean noReason = draft.corrects().isPresent() && draft.entries().reason().isEmpty();
    return noReason ? Optional.of("Say why you correct the record. What you entered is kept.") : Optional.empty();
  }

  private void discard(Context ctx) {
    Draft draft = draft(ctx);
    if (!bench.discard(draft.id())) {
      throw Refusal.conflict("This draft has been signed or put aside already.");
    }
    Page.goTo(ctx, "/bench", "The draft for " + nameOf(draft.apprentice()) + " is put aside. Nothing was signed.");
  }

  private void review(Context ctx) {
    Draft draft = draft(ctx);
    if (draft.signedRecord().isPresent() || wanting(draft).isPresent()) {
      Page.goTo(ctx, "/bench/drafts/" + draft.id());
      return;
    }
    showReview(ctx, draft, "");
  }

  private void showReview(Context ctx, Draft draft, String problem) {
    Task task = taskOf(draft);
    Person instructor = Visit.person(ctx);
    Map<String, Object> model = headOf(draft, task);
    model.put("grade", GradeView.of(gradeOf(draft, task)));
    model.put("reason", draft.entries().reason());
    model.put("edition", tasks.edition());
    model.put("problem", problem);
    model.put("shown", shownDigest(draft));
    model.put("hasPin", people.hasPin(instructor.id()));
    Page.show(ctx, "bench/review", model);
  }

  private static String shownDigest(Draft draft) {
    return Secrets.digest(draft.entries().toJson());
  }

  private Grade gradeOf(Draft draft, Task task) {
    return Grade.of(draft.apprentice(), nameOf(draft.apprentice()), task, draft.tag(), draft.entries());
  }

  private void sign(Context ctx) {
    Draft draft = draft(ctx);
    if (draft.signedRecord().isPresent()) {
      Page.goTo(ctx, "/bench/records/" + draft.signedRecord().get(), "This was signed before; it stands once.");
      return;
    }
    if (!shownDigest(draft).equals(Visit.formText(ctx, "shown").orElse("")) || wanting(draft).isPresent()) {
      ctx.status(409);
      changedSinceShown(ctx, draft);
      return;
    }
    Optional<String> refusal =
        PinCheck.refusal(people.provePresence(Visit.person(ctx).id(), Visit.formText(ctx, "pin").orElse("")), moments);
    if (refusal.isPresent()) {
      ctx.status(422);
      showReview(ctx, draft, refusal.get());
      return;
    }
    signed(ctx, draft, records.sign(draft, gradeOf(draft, taskOf(draft)), Visit.person(ctx), tasks.edition()));
  }

  private void signed(Context ctx, Draft draft, Signing outcome) {
    if (outcome instanceof Signing.Signed signed) {
      Page.goTo(ctx, "/bench/records/" + signed.entry().id(), "Signed. It is record " + signed.entry().number() + ".");
    } else if (outcome instanceof Signing.SignedBefore before) {
      Page.goTo(ctx, "/bench/records/" + before.record(), "This was signed before; it stands once.");
    } else if (outcome instanceof Signing.TakenBefore taken) {
      Page.goTo(ctx, "/bench/records/" + taken.by(),
          "Not signed: this record had taken the place of the one that you meant to correct. Your draft is kept.");
    } else {
      ctx.status(409);
      changedSinceShown(ctx, draft(ctx));
    }
  }

  private void changedSinceShown(Context ctx, Draft draft) {
    String problem = "The draft has changed since you were shown it, so that nothing was signed. Look at it again.";
    if (wanting(draft).isPresent()) {
      showGrading(ctx, draft, true, problem);
    } else {
      showReview(ctx, draft, problem);
    }
  }

  private void showInstruments(Context ctx, String problem) {
    Page.show(
        ctx, "bench/instruments",
        Map.of(
            "instruments", bench.instruments(),
            "problem", problem,
            "kinds", tasks.all().stream().map(Task::instrument).distinct().toList(),
            "tag", Visit.formText(ctx, "tag").orElse(""),
            "description", Visit.formText(ctx, "description").orElse("")));
  }

  private void retireInstrument(Context ctx) {
    if (!bench.retire(Visit.id(ctx, "id"), zone)) {
      throw Refusal.conflict("This instrument is not on the bench any more.");
    }
    Page.goTo(ctx, "/bench/instruments", "It is off the bench. What was done on it stays in the record.");
  }

  private void addInstrument(Context ctx) {
    Optional<String> tag = Visit.formText(ctx, "tag").filter(t -> t.length() <= 40);
    Optional<String> description = Visit.formText(ctx, "description").filter(t -> t.length() <= 200);
    String kind = Visit.formText(ctx, "kind").orElse("trumpet");
    boolean known = tasks.all().stream().anyMatch(t -> t.instrument().equals(kind));
    if (tag.isEmpty() || description.isEmpty() || !known) {
      ctx.status(422);
      showInstruments(ctx, "Give a tag of up to 40 characters and a description of up to 200.");
    } else if (!bench.addIfNew(
        new LoanInstrument(UUID.randomUUID(), tag.get(), kind, description.get(), Optional.empty()))) {
      ctx.status(409);
      showInstruments(ctx, "The tag " + tag.get() + " is on another instrument. A tag names one instrument.");
    } else {
      Page.goTo(ctx, "/bench/instruments", tag.get() + " is on the bench.");
    }
  }
}
