package ferrule.bench;

import ferrule.account.PasskeyPages;
import ferrule.people.Person;
import ferrule.web.Access;
import ferrule.web.Page;
import ferrule.web.Pages;
import ferrule.web.Refusal;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;

/** What a second instructor does with work that another signed: sign it too, or grade it without seeing the grade. */
public final class SecondPages implements Pages {

  private final Bench bench;
  private final Moments moments;

  /** The pages. */
  public SecondPages(Bench bench) {
    this.bench = bench;
    this.moments = bench.moments();
  }

  @Override
  public void routes(RoutesConfig routes) {
    routes.get("/bench/records/{id}/second", ctx -> show(ctx, record(ctx), ""), Access.INSTRUCTOR);
    routes.post("/bench/records/{id}/second", this::sign, Access.INSTRUCTOR);
    routes.post("/bench/records/{id}/blind", this::gradeBlind, Access.INSTRUCTOR);
  }

  private LoggedRecord record(Context ctx) {
    return bench.records().find(Visit.id(ctx, "id")).filter(r -> r.record().grade().isPresent())
        .orElseThrow(() -> Refusal.notFound("There is no such record with a grade."));
  }

  private Task taskOf(LoggedRecord record) {
    return bench.tasks().find(record.record().grade().orElseThrow().task())
        .orElseThrow(() -> Refusal.invalid("The task is not in the curriculum any more."));
  }

  private void refuseUnlessOpen(LoggedRecord record, Person instructor) {
    if (!record.record().grade().orElseThrow().secondSignature()) {
      throw Refusal.invalid("This record asks for no second signature.");
    }
    if (record.record().signature().by().equals(instructor.id())) {
      throw Refusal.invalid("You signed this first; the second signature is another instructor's.");
    }
    if (bench.records().secondOf(record.id()).isPresent() || bench.records().supersededBy(record.id()).isPresent()) {
      throw Refusal.conflict("This record has its second signature already, or does not count any more.");
    }
    bench.refusal(instructor.id(), taskOf(record)).ifPresent(
        words -> {
          throw Refusal.forbidden(words);
        });
  }

  private void show(Context ctx, LoggedRecord record, String problem) {
    Person instructor = Visit.person(ctx);
    refuseUnlessOpen(record, instructor);
    Map<String, Object> model = new HashMap<>();
    model.put("entry", record);
    model.put("record", record.record());
    model.put("signedAt", moments.inWords(record.at()));
    model.put("grade", record.record().grade().map(GradeView::of).orElseThrow());
    model.put("problem", problem);
    model.put("hasPin", bench.people().hasPin(instructor.id()));
    model.put("hasPasskey", bench.people().passkeys().has(instructor.id()));
    Page.show(ctx, "bench/second", model);
  }

  private void sign(Context ctx) {
    LoggedRecord record = record(ctx);
    Person instructor = Visit.person(ctx);
    refuseUnlessOpen(record, instructor);
    Optional<String> refusal = PinCheck.refusal(
        PasskeyPages.presence(ctx, bench.people()), moments);
    if (refusal.isPresent()) {
      ctx.status(422);
      show(ctx, record, refusal.get());
      return;
    }
    Signing outcome = bench.records().signSecond(record, instructor, bench.tasks().edition());
    if (outcome instanceof Signing.Signed signed) {
      Page.goTo(ctx, "/bench/records/" + record.id(),
          "Signed. Your signature is record " + signed.entry().number() + "; the work counts from now on.");
    } else {
      throw Refusal.conflict("This record has been signed, corrected or withdrawn meanwhile; nothing was added.");
    }
  }

  private void gradeBlind(Context ctx) {
    LoggedRecord record = record(ctx);
    Person instructor = Visit.person(ctx);
    if (!(record.record() instanceof BenchRecord.SignOff) || record.record().signature().by().equals(instructor.id())) {
      throw Refusal.invalid("Graded blind is the first grade of a piece of work, by an instructor who did not make it.");
    }
    if (bench.blind().hasGraded(record.id(), instructor.id())) {
      throw Refusal.conflict("You have graded this work already.");
    }
    Task task = taskOf(record);
    Grade grade = record.record().grade().orElseThrow();
    Draft draft = bench.drafts().openDrafts(instructor.id()).stream()
        .filter(d -> d.blindOf().equals(Optional.of(record.id())))
        .findFirst()
        .orElseGet(() -> bench.drafts().openBlind(
            record.id(), instructor.id(), record.apprentice(), task.id(), grade.tag(),
            bench.drafts().lastLimits(instructor.id(), task.id())));
    Page.goTo(ctx, "/bench/drafts/" + draft.id());
  }
}
