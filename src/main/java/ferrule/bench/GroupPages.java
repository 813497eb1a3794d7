package ferrule.bench;

import com.fasterxml.jackson.databind.ObjectMapper;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.web.Access;
import ferrule.web.OnlyOwn;
import ferrule.web.Page;
import ferrule.web.Pages;
import ferrule.web.Refusal;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;

/** Several apprentices at the same task, graded side by side; each one's grade is signed by itself. */
public final class GroupPages implements Pages {

  private static final int MOST = 8;
  private static final ObjectMapper JSON = new ObjectMapper();

  private final Bench bench;

  /** The pages. */
  public GroupPages(Bench bench) {
    this.bench = bench;
  }

  @Override
  public void routes(RoutesConfig routes) {
    OnlyOwn own = OnlyOwn.of(
        Role.INSTRUCTOR, "id", (me, id) -> Visit.uuid(id).filter(i -> bench.drafts().isGroupOf(me.id(), i)).isPresent());
    routes.get("/bench/groups", ctx -> showStart(ctx, ""), Access.INSTRUCTOR);
    routes.post("/bench/groups", this::open, Access.INSTRUCTOR);
    routes.get("/bench/groups/{id}", ctx -> show(ctx, drafts(ctx)), Access.INSTRUCTOR, own);
    routes.post("/bench/groups/{id}", this::keepAndGoOn, Access.INSTRUCTOR, own);
    routes.post("/bench/groups/{id}/cautions", this::confirmCautions, Access.INSTRUCTOR, own);
    routes.post("/bench/groups/{id}/keep", this::keepQuietly, Access.INSTRUCTOR, own);
  }

  private void showStart(Context ctx, String problem) {
    Map<String, Object> model = new HashMap<>();
    model.put("problem", problem);
    model.put("areas", BenchPages.areas(bench, Visit.person(ctx).id()));
    model.put("groups", BenchPages.groups(bench.people()));
    model.put("instruments", bench.drafts().instruments());
    model.put("chosenTask", Visit.formText(ctx, "task").orElse(""));
    model.put("chosen", ctx.formParams("apprentice"));
    model.put("most", MOST);
    Page.show(ctx, "bench/group-start", model);
  }

  private void open(Context ctx) {
    UUID instructor = Visit.person(ctx).id();
    Optional<Task> task = Visit.formText(ctx, "task").flatMap(bench::task);
    List<Person> apprentices = ctx.formParams("apprentice").stream().flatMap(a -> bench.apprentice(a).stream()).toList();
    List<String> tags = apprentices.stream()
        .map(a -> Visit.formText(ctx, "tag." + a.id()).filter(bench::isOnBench).orElse("")).toList();
    if (task.isEmpty() || apprentices.isEmpty() || apprentices.size() > MOST || tags.contains("")) {
      ctx.status(422);
      showStart(ctx, "Choose the work and up to " + MOST + " apprentices, each with the tag of their instrument.");
      return;
    }
    Optional<String> outside = bench.refusal(instructor, task.get());
    if (outside.isPresent()) {
      ctx.status(422);
      showStart(ctx, outside.get());
      return;
    }
    UUID group = UUID.randomUUID();
    Entries entries = bench.drafts().lastLimits(instructor, task.get().id());
    for (int i = 0; i < apprentices.size(); i++) {
      bench.drafts().openInGroup(
          group, instructor, apprentices.get(i).id(), task.get().id(), tags.get(i), entries);
    }
    Page.goTo(ctx, "/bench/groups/" + group);
  }

  /** The group's open drafts; refused if it is not this instructor's or all are signed. */
  private List<Draft> drafts(Context ctx) {
    List<Draft> drafts = bench.drafts().group(Visit.id(ctx, "id"));
    if (drafts.isEmpty()) {
      throw Refusal.notFound("There is no such group any more: all of it is signed or put aside.");
    }
    return drafts;
  }

  private Task taskOf(List<Draft> drafts) {
    return bench.tasks().find(drafts.get(0).task())
        .orElseThrow(() -> Refusal.notFound("The task is not in the curriculum any more."));
  }

  /** One apprentice's place in a criterion's row. */
  record Cell(UUID draft, String apprentice, String tag, CriterionView view) {}

  /** A criterion and everybody's entry for it. */
  record Row(CriterionView criterion, List<Cell> cells) {}

  /** One apprentice of the group. */
  record Member(UUID draft, String apprentice, String tag, String summary, boolean photoWanted) {}

  private void show(Context ctx, List<Draft> drafts) {
    Task task = taskOf(drafts);
    Map<String, Object> model = new HashMap<>();
    model.put("id", drafts.get(0).group().orElseThrow());
    model.put("task", task);
    model.put("restsWith", bench.tasks().restsWith());
    model.put("members", drafts.stream().map(d -> member(d, task)).toList());
    if (!drafts.stream().allMatch(d -> d.entries().cautionsConfirmed())) {
      Page.show(ctx, "bench/group-before", model);
      return;
    }
    model.put("rows", rows(drafts, task));
    Page.show(ctx, "bench/group", model);
  }

  private Member member(Draft draft, Task task) {
    boolean photo = task.photoAsked() && bench.photos().of(draft.id()).isEmpty();
    return new Member(draft.id(), bench.nameOf(draft.apprentice()), draft.tag(), summary(draft, task), photo);
  }

  private static String summary(Draft draft, Task task) {
    Grading grading = Grading.of(task, draft.entries());
    return grading.isComplete()
        ? Outcome.of(grading.findings(), task.passPercent()).standing().word()
        : grading.openCount() + " to go";
  }

  private List<Row> rows(List<Draft> drafts, Task task) {
    List<Row> rows = new ArrayList<>();
    for (int c = 0; c < task.criteria().size(); c++) {
      List<Cell> cells = new ArrayList<>();
      for (Draft draft : drafts) {
        Grading.Line line = Grading.of(task, draft.entries()).lines().get(c);
        cells.add(
            new Cell(
                draft.id(), bench.nameOf(draft.apprentice()), draft.tag(), CriterionView.of(line, draft.entries())));
      }
      rows.add(new Row(cells.get(0).view(), cells));
    }
    return rows;
  }

  private void confirmCautions(Context ctx) {
    List<Draft> drafts = drafts(ctx);
    drafts.forEach(d -> bench.drafts().keep(d.id(), d.entries().withCautionsConfirmed()));
    Page.goTo(ctx, "/bench/groups/" + ctx.pathParam("id"));
  }

  /** Keeps what the form holds of each draft that is still open, and leaves what it does not show as it was. */
  private List<Draft> keep(Context ctx, boolean restAsExpected) {
    List<Draft> drafts = drafts(ctx);
    Task task = taskOf(drafts);
    for (Draft draft : drafts) {
      Entries read = EntryForm.read(task, draft.entries(), name -> Visit.formText(ctx, name), draft.id() + ".");
      Entries entries = new Entries(
          read.cautionsConfirmed(), read.levels(), read.readings(), read.lowers(), read.uppers(),
          draft.entries().note(), draft.entries().reason());
      bench.drafts().keep(draft.id(), restAsExpected ? entries.withTheRestAsExpected(task) : entries);
    }
    return drafts(ctx);
  }

  private void keepAndGoOn(Context ctx) {
    String go = Visit.formText(ctx, "go").orElse("");
    List<Draft> drafts = keep(ctx, go.equals("expected"));
    Optional<Draft> wanted = drafts.stream().filter(d -> d.id().toString().equals(go)).findFirst();
    if (wanted.isPresent()) {
      boolean complete = Grading.of(taskOf(drafts), wanted.get().entries()).isComplete();
      Page.goTo(ctx, "/bench/drafts/" + wanted.get().id() + (complete ? "/review" : ""));
    } else if (go.equals("later")) {
      Page.goTo(ctx, "/bench", "The group is kept. Finish it when you like.");
    } else {
      Page.goTo(ctx, "/bench/groups/" + ctx.pathParam("id"));
    }
  }

  private void keepQuietly(Context ctx) {
    List<Draft> drafts = keep(ctx, false);
    Task task = taskOf(drafts);
    List<Map<String, String>> lines = new ArrayList<>();
    for (Row row : rows(drafts, task)) {
      for (Cell cell : row.cells()) {
        CriterionView view = cell.view();
        lines.add(Map.of("id", cell.draft() + "." + view.id(), "state", view.state(), "words", view.words()));
      }
    }
    List<Map<String, String>> summaries =
        drafts.stream().map(d -> Map.of("id", "summary." + d.id(), "words", summary(d, task))).toList();
    ctx.contentType("application/json");
    ctx.result(JSON.valueToTree(Map.of("lines", lines, "summaries", summaries)).toString());
  }
}
