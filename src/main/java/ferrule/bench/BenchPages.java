package ferrule.bench;

import ferrule.device.DeviceStore;
import ferrule.people.Cohort;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.procedure.Procedure;
import ferrule.web.Access;
import ferrule.web.NavEntry;
import ferrule.web.Page;
import ferrule.web.Pages;
import ferrule.web.Refusal;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;

/** Where grading begins: who is ready to be checked, what is begun, what waits for a second signature. */
public final class BenchPages implements Pages {

  private static final int LATEST = 12;
  private static final int LATEST_FOR_BLIND = 60;
  private static final int MOST_BLIND = 4;

  private final Bench bench;
  private final DeviceStore devices;
  private final Moments moments;

  /** The pages. */
  public BenchPages(Bench bench, DeviceStore devices) {
    this.bench = bench;
    this.devices = devices;
    this.moments = bench.moments();
  }

  @Override
  public List<NavEntry> nav() {
    return List.of(NavEntry.of("Bench", "/bench", 20, Access.INSTRUCTOR));
  }

  @Override
  public void routes(RoutesConfig routes) {
    routes.get("/bench", ctx -> showStart(ctx, ""), Access.INSTRUCTOR);
    routes.post("/bench/drafts", this::openDraft, Access.INSTRUCTOR);
    routes.post("/bench/queue/{id}/grade", this::gradeNext, Access.INSTRUCTOR);
  }

  /** The apprentices of one cohort, to choose from. */
  record Group(String title, List<Person> apprentices) {}

  /**
   * A task to choose.
   *
   * @param outside why the instructor may not sign it; empty if they may
   */
  record TaskChoice(String id, String title, boolean second, boolean photo, String outside) {}

  /** The tasks of one area, to choose from. */
  record AreaChoice(String title, List<TaskChoice> tasks) {}

  /**
   * An open draft in the list of those to go on with.
   *
   * @param held why it was signed on a device and not entered; empty for most
   */
  record DraftLine(
      UUID id, String group, String apprentice, String task, String tag, String touched, String left, String kind,
      String held) {}

  /** A request in the queue. */
  record QueueLine(UUID id, String apprentice, String task, String tag, String asked, String takenBy, String outside) {}

  /** A signed record in a list; its standing only where the reader may have it before their eyes. */
  record RecordLine(UUID id, long number, String kind, String apprentice, String what, String tag, String standing,
      String signer, String at) {}

  private void showStart(Context ctx, String problem) {
    Person instructor = Visit.person(ctx);
    List<LoggedRecord> latest = bench.records().latest(LATEST_FOR_BLIND);
    Map<String, Object> model = new HashMap<>();
    model.put("problem", problem);
    model.put("groups", groups(bench.people()));
    model.put("areas", areas(bench, instructor.id()));
    model.put("instruments", bench.drafts().instruments());
    model.put("chosenApprentice", chosen(ctx, "apprentice"));
    model.put("chosenTask", chosen(ctx, "task"));
    model.put("chosenTag", chosen(ctx, "tag"));
    model.put("queue", bench.queue().waiting().stream().map(r -> queueLine(r, instructor.id())).toList());
    List<Draft> open = bench.drafts().openDrafts(instructor.id());
    Map<UUID, String> held = devices.heldWords(open.stream().map(Draft::id).toList());
    model.put("drafts", open.stream().map(d -> draftLine(d, held.getOrDefault(d.id(), ""))).toList());
    model.put("awaiting", bench.records().awaitingSecond().stream()
        .filter(r -> !r.record().signature().by().equals(instructor.id()))
        .map(r -> recordLine(r, instructor.id())).toList());
    model.put("blind", latest.stream().filter(r -> mayGradeBlind(r, instructor.id())).limit(MOST_BLIND)
        .map(r -> recordLine(r, instructor.id())).toList());
    model.put("latest", latest.stream().limit(LATEST).map(r -> recordLine(r, instructor.id())).toList());
    Page.show(ctx, "bench/start", model);
  }

  // after a problem the form's own fields, at first what a link names, such as the apprentice of a record
  private static String chosen(Context ctx, String name) {
    return Visit.formText(ctx, name).or(() -> Visit.queryText(ctx, name)).orElse("");
  }

  static List<Group> groups(PeopleStore people) {
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

  static List<AreaChoice> areas(Bench bench, UUID instructor) {
    Authority authority = bench.authorities().of(instructor);
    Map<Procedure.Area, List<TaskChoice>> byArea = new EnumMap<>(Procedure.Area.class);
    for (Task task : bench.tasks().all()) {
      byArea.computeIfAbsent(task.area(), a -> new ArrayList<>()).add(
          new TaskChoice(
              task.id().value(), task.title(), task.secondSignature(), task.photoAsked(),
              authority.covers(task) ? "" : authority.refusalOf(task)));
    }
    return byArea.entrySet().stream().map(e -> new AreaChoice(e.getKey().title(), e.getValue())).toList();
  }

  private DraftLine draftLine(Draft draft, String held) {
    Optional<Task> task = bench.tasks().find(draft.task());
    long open = task.map(t -> Grading.of(t, draft.entries()).openCount()).orElse(0L);
    String left = open == 0 ? "all criteria are in" : open == 1 ? "1 criterion to go" : open + " criteria to go";
    String kind = draft.blindOf().isPresent() ? "blind second grade" : draft.corrects().isPresent() ? "correction"
        : draft.group().isPresent() ? "in a group" : "";
    return new DraftLine(
        draft.id(), draft.group().map(UUID::toString).orElse(""), bench.nameOf(draft.apprentice()),
        task.map(Task::title).orElse(draft.task().value()), draft.tag(), moments.inWords(draft.updatedAt()), left, kind,
        held);
  }

  private QueueLine queueLine(CheckRequest request, UUID instructor) {
    Optional<Task> task = bench.tasks().find(request.task());
    return new QueueLine(
        request.id(), request.apprenticeName(), task.map(Task::title).orElse(request.task().value()), request.tag(),
        moments.inWords(request.askedAt()), request.takenBy().orElse(""),
        task.flatMap(t -> bench.refusal(instructor, t)).orElse(""));
  }

  private RecordLine recordLine(LoggedRecord entry, UUID reader) {
    BenchRecord record = entry.record();
    // who could still grade the work blind does not read its grade off a list
    boolean own = record.signature().by().equals(reader);
    String standing = record instanceof BenchRecord.Withdrawal ? "withdrawn"
        : own ? record.grade().map(g -> g.outcome().standing().word()).orElse("") : "";
    return new RecordLine(
        entry.id(), entry.number(), record instanceof BenchRecord.SecondSignature ? "second signature" : entry.kind(),
        record.apprenticeName(), record.grade().map(Grade::taskTitle).orElse(""),
        record.grade().map(Grade::tag).orElse(""), standing, record.signature().name(), moments.inWords(entry.at()));
  }

  /** Whether an instructor could grade the work of a record once more without having had to do with it. */
  private boolean mayGradeBlind(LoggedRecord entry, UUID instructor) {
    return entry.record() instanceof BenchRecord.SignOff signOff
        && !signOff.signature().by().equals(instructor)
        && bench.tasks().find(signOff.signed().task()).filter(t -> bench.refusal(instructor, t).isEmpty()).isPresent()
        && bench.records().supersededBy(entry.id()).isEmpty()
        && bench.records().secondOf(entry.id()).isEmpty()
        && !bench.blind().hasGraded(entry.id(), instructor);
  }

  private void openDraft(Context ctx) {
    Optional<Person> apprentice = Visit.formText(ctx, "apprentice").flatMap(bench::apprentice);
    Optional<Task> task = Visit.formText(ctx, "task").flatMap(bench::task);
    Optional<String> tag = Visit.formText(ctx, "tag").filter(bench::isOnBench);
    if (apprentice.isEmpty() || task.isEmpty() || tag.isEmpty()) {
      ctx.status(422);
      showStart(ctx, "Choose the work, the apprentice and the instrument's tag. What you chose already is still marked.");
      return;
    }
    Optional<String> outside = bench.refusal(Visit.person(ctx).id(), task.get());
    if (outside.isPresent()) {
      ctx.status(422);
      showStart(ctx, outside.get());
      return;
    }
    Page.goTo(ctx, "/bench/drafts/" + open(ctx, apprentice.get().id(), task.get(), tag.get()).id());
  }

  private Draft open(Context ctx, UUID apprentice, Task task, String tag) {
    UUID instructor = Visit.person(ctx).id();
    return bench.drafts().open(
        instructor, apprentice, task.id(), tag, bench.drafts().lastLimits(instructor, task.id()), Optional.empty());
  }

  /** Begins to grade what an apprentice says is ready. */
  private void gradeNext(Context ctx) {
    UUID id = Visit.id(ctx, "id");
    CheckRequest request = bench.queue().waiting().stream().filter(r -> r.id().equals(id)).findFirst()
        .orElseThrow(() -> Refusal.conflict("This is not in the queue any more."));
    Task task = bench.tasks().find(request.task())
        .orElseThrow(() -> Refusal.invalid("The task is not in the curriculum any more."));
    bench.refusal(Visit.person(ctx).id(), task).ifPresent(
        words -> {
          throw Refusal.forbidden(words);
        });
    Draft draft = open(ctx, request.apprentice(), task, request.tag());
    if (!bench.queue().take(id, draft.id())) {
      bench.drafts().discard(draft.id());
      throw Refusal.conflict("Another instructor has begun to grade this.");
    }
    Page.goTo(ctx, "/bench/drafts/" + draft.id());
  }
}
