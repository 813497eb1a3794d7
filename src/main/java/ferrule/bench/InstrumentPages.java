package ferrule.bench;

import ferrule.web.Access;
import ferrule.web.Page;
import ferrule.web.Pages;
import ferrule.web.Refusal;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;

/** The instruments that apprentices work on, by their tags. */
public final class InstrumentPages implements Pages {

  private final Bench bench;

  /** The pages. */
  public InstrumentPages(Bench bench) {
    this.bench = bench;
  }

  @Override
  public void routes(RoutesConfig routes) {
    routes.get("/bench/instruments", ctx -> show(ctx, ""), Access.INSTRUCTOR, Access.COORDINATOR);
    routes.post("/bench/instruments", this::add, Access.INSTRUCTOR, Access.COORDINATOR);
    routes.post("/bench/instruments/{id}/retire", this::retire, Access.INSTRUCTOR, Access.COORDINATOR);
  }

  private void show(Context ctx, String problem) {
    Page.show(
        ctx, "bench/instruments",
        Map.of(
            "instruments", bench.drafts().instruments(),
            "problem", problem,
            "kinds", bench.tasks().all().stream().map(Task::instrument).distinct().toList(),
            "tag", Visit.formText(ctx, "tag").orElse(""),
            "description", Visit.formText(ctx, "description").orElse("")));
  }

  private void retire(Context ctx) {
    if (!bench.drafts().retire(Visit.id(ctx, "id"), bench.zone())) {
      throw Refusal.conflict("This instrument is not on the bench any more.");
    }
    Page.goTo(ctx, "/bench/instruments", "It is off the bench. What was done on it stays in the record.");
  }

  private void add(Context ctx) {
    Optional<String> tag = Visit.formText(ctx, "tag").filter(t -> t.length() <= 40);
    Optional<String> description = Visit.formText(ctx, "description").filter(t -> t.length() <= 200);
    String kind = Visit.formText(ctx, "kind").orElse("trumpet");
    boolean known = bench.tasks().all().stream().anyMatch(t -> t.instrument().equals(kind));
    if (tag.isEmpty() || description.isEmpty() || !known) {
      ctx.status(422);
      show(ctx, "Give a tag of up to 40 characters and a description of up to 200.");
    } else if (!bench.drafts().addIfNew(
        new LoanInstrument(UUID.randomUUID(), tag.get(), kind, description.get(), Optional.empty()))) {
      ctx.status(409);
      show(ctx, "The tag " + tag.get() + " is on another instrument. A tag names one instrument.");
    } else {
      Page.goTo(ctx, "/bench/instruments", tag.get() + " is on the bench.");
    }
  }
}
