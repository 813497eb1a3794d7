package ferrule.report.bundle;

import ferrule.competency.AsOf;
import ferrule.competency.CompetencyPages;
import ferrule.competency.Desk;
import ferrule.people.Cohort;
import ferrule.people.Person;
import ferrule.web.Access;
import ferrule.web.NavEntry;
import ferrule.web.Page;
import ferrule.web.Pages;
import ferrule.web.Refusal;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;

/** Where a coordinator asks for a bundle, sees how far it is, stops it and fetches it. */
public final class BundlePages implements Pages {

  private final LongWorkStore store;
  private final Desk desk;
  private final DateTimeFormatter moment;

  /** The pages. */
  public BundlePages(LongWorkStore store, Desk desk, ZoneId zone) {
    this.store = store;
    this.desk = desk;
    this.moment = DateTimeFormatter.ofPattern("d MMMM uuuu, HH:mm", Locale.ENGLISH).withZone(zone);
  }

  @Override
  public List<NavEntry> nav() {
    return List.of(NavEntry.of("Bundles", "/bundles", 80, Access.COORDINATOR));
  }

  @Override
  public void routes(RoutesConfig routes) {
    routes.get("/bundles", this::show, Access.COORDINATOR);
    routes.post("/bundles", this::ask, Access.COORDINATOR);
    routes.get("/bundles/list", ctx -> Page.show(ctx, "report/bundle-list", model()), Access.COORDINATOR);
    routes.post("/bundles/{id}/cancel", this::cancel, Access.COORDINATOR);
    routes.get("/bundles/{id}/file", this::send, Access.COORDINATOR);
  }

  /** A bundle in the list. */
  record Row(
      UUID id, String what, String asked, String state, String tag, String step, long done, long total, boolean open,
      boolean ready, String size, String failure) {}

  private Map<String, Object> model() {
    Map<String, Object> model = new HashMap<>();
    List<Row> rows = store.latest().stream().map(this::row).toList();
    model.put("rows", rows);
    model.put("anyOpen", rows.stream().anyMatch(Row::open));
    return model;
  }

  private Row row(LongWork work) {
    String what = work.cohort()
        .map(id -> desk.people().cohort(id).map(Cohort::title).orElse("a cohort that is gone"))
        .orElse("The whole programme");
    String by = desk.people().person(work.askedBy()).map(Person::fullName).orElse("");
    boolean stopping = work.isOpen() && work.cancelAsked();
    return new Row(
        work.id(), what + ", as of " + AsOf.inWords(work.asOf()), moment.format(work.askedAt()) + " by " + by,
        stopping ? "stopping" : word(work.state()), tag(work.state()), work.step(), work.done(), work.total(),
        work.isOpen() && !stopping, work.state() == LongWork.State.DONE, size(work.fileSize()), work.failure());
  }

  private static String word(LongWork.State state) {
    return switch (state) {
      case WAITING -> "waits for its turn";
      case RUNNING -> "being made";
      case DONE -> "ready";
      case FAILED -> "failed";
      case CANCELLED -> "cancelled";
      case GONE -> "removed after " + LongWorkStore.KEPT.toHours() + " hours";
    };
  }

  private static String tag(LongWork.State state) {
    return switch (state) {
      case DONE -> "good";
      case FAILED -> "bad";
      case WAITING, RUNNING -> "open";
      case CANCELLED, GONE -> "idle";
    };
  }

  private static String size(long bytes) {
    return bytes < 1_000_000 ? Math.max(1, Math.round(bytes / 1e3)) + " kB"
        : String.format(Locale.ENGLISH, "%.1f MB", bytes / 1e6);
  }

  private void show(Context ctx) {
    Map<String, Object> model = model();
    model.put("cohorts", desk.people().cohorts());
    model.put("today", desk.today());
    model.put("kept", LongWorkStore.KEPT.toHours());
    Page.show(ctx, "report/bundles", model);
  }

  private void ask(Context ctx) {
    Optional<UUID> cohort = Visit.formText(ctx, "cohort").map(text -> Visit.formId(ctx, "cohort", "Choose the cohort."));
    if (cohort.isPresent() && desk.people().cohort(cohort.get()).isEmpty()) {
      throw Refusal.notFound("There is no such cohort.");
    }
    if (store.ask(cohort, day(ctx), Visit.person(ctx).id()).isEmpty()) {
      throw Refusal.conflict(
          "You have " + LongWorkStore.MOST_OPEN + " bundles waiting or being made. Wait for one, or cancel it.");
    }
    Page.goTo(ctx, "/bundles", "Asked for. It is made while you do other things; you may close this page.");
  }

  private LocalDate day(Context ctx) {
    return CompetencyPages.asOf(Visit.formText(ctx, "as-of"), desk).day();
  }

  private void cancel(Context ctx) {
    if (!store.cancel(Visit.id(ctx, "id"))) {
      throw Refusal.conflict("It is not being made any more.");
    }
    Page.goTo(ctx, "/bundles", "It is being stopped; nothing of it is kept.");
  }

  private void send(Context ctx) {
    LongWork work = store.find(Visit.id(ctx, "id")).filter(w -> w.state() == LongWork.State.DONE)
        .orElseThrow(() -> Refusal.notFound("There is no such bundle any more. Ask for it again."));
    String name = URLEncoder.encode(work.fileName(), StandardCharsets.UTF_8).replace("+", "%20");
    ctx.header("Content-Disposition", "attachment; filename*=UTF-8''" + name);
    ctx.header("Content-Length", Long.toString(work.fileSize()));
    ctx.contentType("application/zip");
    try {
      store.send(work.id(), ctx.outputStream());
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
