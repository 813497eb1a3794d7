package ferrule.bench;

import ferrule.people.Role;
import ferrule.web.Access;
import ferrule.web.NavEntry;
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

/** An apprentice says that work is ready to be checked, and sees their place in the queue. */
public final class QueuePages implements Pages {

  private final Bench bench;
  private final Moments moments;

  /** The pages. */
  public QueuePages(Bench bench) {
    this.bench = bench;
    this.moments = bench.moments();
  }

  @Override
  public List<NavEntry> nav() {
    return List.of(NavEntry.of("Bench", "/ready", 25, Access.APPRENTICE));
  }

  @Override
  public void routes(RoutesConfig routes) {
    routes.get("/ready", ctx -> show(ctx, ""), Access.APPRENTICE);
    routes.post("/ready", this::ask, Access.APPRENTICE);
    routes.post("/ready/{id}/withdraw", this::withdraw, Access.APPRENTICE, OnlyOwn.of(
        Role.APPRENTICE, "id", (me, id) -> Visit.uuid(id).filter(i -> bench.queue().isOf(i, me.id())).isPresent()));
  }

  /**
   * A place in the queue.
   *
   * @param own whether it is the reader's; others stand without their work
   */
  record PlaceLine(UUID id, int place, boolean own, String apprentice, String task, String tag, String asked,
      String takenBy) {}

  private void show(Context ctx, String problem) {
    UUID reader = Visit.person(ctx).id();
    List<PlaceLine> lines = new ArrayList<>();
    for (CheckRequest request : bench.queue().waiting()) {
      lines.add(
          new PlaceLine(
              request.id(), lines.size() + 1, request.apprentice().equals(reader), request.apprenticeName(),
              bench.tasks().find(request.task()).map(Task::title).orElse(request.task().value()), request.tag(),
              moments.timeOf(request.askedAt()), request.takenBy().orElse("")));
    }
    Map<String, Object> model = new HashMap<>();
    model.put("problem", problem);
    model.put("queue", lines);
    model.put("areas", BenchPages.areas(bench, reader));
    model.put("instruments", bench.drafts().instruments());
    model.put("chosenTask", Visit.formText(ctx, "task").orElse(""));
    model.put("chosenTag", Visit.formText(ctx, "tag").orElse(""));
    Page.show(ctx, "bench/ready", model);
  }

  private void ask(Context ctx) {
    Optional<Task> task = Visit.formText(ctx, "task").flatMap(bench::task);
    Optional<String> tag = Visit.formText(ctx, "tag").filter(bench::isOnBench);
    if (task.isEmpty() || tag.isEmpty()) {
      ctx.status(422);
      show(ctx, "Choose the work and the instrument's tag.");
      return;
    }
    boolean added = bench.queue().ask(Visit.person(ctx).id(), task.get().id(), tag.get());
    Page.goTo(ctx, "/ready", added ? "You are in the queue." : "This work is in the queue already.");
  }

  private void withdraw(Context ctx) {
    if (!bench.queue().withdraw(Visit.id(ctx, "id"), Visit.person(ctx).id())) {
      throw Refusal.conflict("This is not in the queue any more, or it is being graded just now.");
    }
    Page.goTo(ctx, "/ready", "Taken out of the queue.");
  }
}
