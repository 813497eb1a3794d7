package ferrule.bench;

import com.fasterxml.jackson.databind.ObjectMapper;
import ferrule.account.PasskeyPages;
import ferrule.device.DeviceStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.people.Secrets;
import ferrule.web.Access;
import ferrule.web.OnlyOwn;
import ferrule.web.Page;
import ferrule.web.Pages;
import ferrule.web.Refusal;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;

/** One piece of work on the bench: confirm the cautions, rate and measure, look at it in full, sign. */
public final class DraftPages implements Pages {

  private static final ObjectMapper JSON = new ObjectMapper();

  private final Bench bench;
  private final DeviceStore devices;
  private final Moments moments;

  /** The pages. */
  public DraftPages(Bench bench, DeviceStore devices) {
    this.bench = bench;
    this.devices = devices;
    this.moments = bench.moments();
  }

  @Override
  public void routes(RoutesConfig routes) {
    OnlyOwn own = own(bench);
    routes.get("/bench/drafts/{id}", this::showDraft, Access.INSTRUCTOR, own);
    routes.post("/bench/drafts/{id}", this::keepAndGoOn, Access.INSTRUCTOR, own);
    routes.post("/bench/drafts/{id}/cautions", this::confirmCautions, Access.INSTRUCTOR, own);
    routes.post("/bench/drafts/{id}/keep", this::keepQuietly, Access.INSTRUCTOR, own);
    routes.post("/bench/drafts/{id}/discard", this::discard, Access.INSTRUCTOR, own);
    routes.get("/bench/drafts/{id}/review", this::review, Access.INSTRUCTOR, own);
    routes.post("/bench/drafts/{id}/sign", this::sign, Access.INSTRUCTOR, own);
    routes.post("/bench/drafts/{id}/keep-blind", this::keepBlind, Access.INSTRUCTOR, own);
  }

  /** An instructor works on their own drafts only. */
  static OnlyOwn own(Bench bench) {
    return OnlyOwn.of(
        Role.INSTRUCTOR, "id", (me, id) -> Visit.uuid(id).filter(i -> bench.drafts().isDraftOf(me.id(), i)).isPresent());
  }

  /** The draft that the path names; refused if it is not there any more. */
  private Draft draft(Context ctx) {
    return bench.drafts().draft(Visit.id(ctx, "id"))
        .orElseThrow(
            () -> Refusal.notFound("This draft has been put aside. Your open drafts are on the bench page."));
  }

  private Task taskOf(Draft draft) {
    return bench.tasks().find(draft.task()).orElseThrow(() -> Refusal.notFound(
        "The task “" + draft.task() + "” is not in the curriculum any more, so that it cannot be graded."));
  }

  private void showDraft(Context ctx) {
    Draft draft = draft(ctx);
    if (draft.signedRecord().isPresent()) {
      Page.goTo(ctx, "/bench/records/" + draft.signedRecord().get());
    } else if (draft.entries().cautionsConfirmed()) {
      showGrading(ctx, draft, false, "");
    } else {
      Page.show(ctx, "bench/before", headOf(draft, taskOf(draft)));
    }
  }

  private Map<String, Object> headOf(Draft draft, Task task) {
    Map<String, Object> model = new HashMap<>();
    model.put("draft", draft);
    model.put("task", task);
    model.put("apprentice", bench.nameOf(draft.apprentice()));
    model.put("restsWith", bench.tasks().restsWith());
    model.put("corrects", draft.corrects().isPresent());
    model.put("blind", draft.blindOf().isPresent());
    model.put("group", draft.group().map(UUID::toString).orElse(""));
    model.put("alsoGrading", draft.corrects().or(draft::blindOf).isPresent() ? List.of()
        : bench.drafts().sameWork(draft).stream().map(d -> bench.nameOf(d.instructor())).distinct().toList());
    model.put("photos", bench.photos().of(draft.id()));
    model.put("held", devices.heldWords(List.of(draft.id())).getOrDefault(draft.id(), ""));
    model.put("mostPhotos", PhotoStore.MOST);
    return model;
  }

  private void confirmCautions(Context ctx) {
    Draft draft = draft(ctx);
    keep(draft, draft.entries().withCautionsConfirmed());
    Page.goTo(ctx, "/bench/drafts/" + draft.id());
  }

  private void keep(Draft draft, Entries entries) {
    if (!bench.drafts().keep(draft.id(), entries)) {
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

  private String summary(Draft draft, Grading grading) {
    if (!grading.isComplete()) {
      long open = grading.openCount();
      return open == 1 ? "1 criterion to go." : open + " criteria to go.";
    }
    Outcome outcome = Outcome.of(grading.findings(), grading.task().passPercent());
    String words = "All criteria are in. The work stands as: " + outcome.standing().word() + ".";
    if (draft.corrects().isPresent() && draft.entries().reason().isEmpty()) {
      return words + " Say why you correct it.";
    }
    return Wanting.isPhoto(draft, grading.task(), bench.photos().of(draft.id()).isEmpty()) ? words + " A photo is asked for." : words;
  }

  private Entries entered(Context ctx, Draft draft) {
    return EntryForm.read(taskOf(draft), draft.entries(), name -> Visit.formText(ctx, name), "");
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
    List<Map<String, String>> summaries = List.of(Map.of("id", "summary", "words", summary(draft(ctx), grading)));
    ctx.contentType("application/json");
    ctx.result(
        JSON.valueToTree(Map.of("lines", lines, "summaries", summaries, "base", Material.base(entries))).toString());
  }

  private void keepAndGoOn(Context ctx) {
    Draft draft = draft(ctx);
    String go = Visit.formText(ctx, "go").orElse("");
    Entries entries = entered(ctx, draft);
    keep(draft, go.equals("expected") ? entries.withTheRestAsExpected(taskOf(draft)) : entries);
    if (go.equals("expected")) {
      Page.goTo(ctx, "/bench/drafts/" + draft.id());
      return;
    }
    if (!go.equals("review")) {
      Page.goTo(
          ctx, "/bench",
          "The draft for " + bench.nameOf(draft.apprentice()) + " is kept. Finish it when you like.");
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
    return Wanting.of(draft, taskOf(draft), bench.photos().of(draft.id()).isEmpty());
  }

  private void discard(Context ctx) {
    Draft draft = draft(ctx);
    if (!bench.drafts().discard(draft.id())) {
      throw Refusal.conflict("This draft has been signed or put aside already.");
    }
    Page.goTo(
        ctx, "/bench", "The draft for " + bench.nameOf(draft.apprentice()) + " is put aside. Nothing was signed.");
  }

  private void review(Context ctx) {
    Draft draft = draft(ctx);
    if (draft.signedRecord().isPresent() || wanting(draft).isPresent()) {
      Page.goTo(ctx, "/bench/drafts/" + draft.id());
      return;
    }
    showReview(ctx, draft, "", Optional.empty());
  }

  private void showReview(Context ctx, Draft draft, String problem, Optional<UUID> signedByAnother) {
    Task task = taskOf(draft);
    Person instructor = Visit.person(ctx);
    Grade grade = gradeOf(draft, task);
    Map<String, Object> model = headOf(draft, task);
    model.put("grade", GradeView.of(grade));
    model.put("reason", draft.entries().reason());
    model.put("edition", bench.tasks().edition());
    model.put("problem", problem);
    model.put("another", signedByAnother.map(UUID::toString).orElse(""));
    model.put("shown", shownDigest(draft, grade));
    model.put("hasPin", bench.people().hasPin(instructor.id()));
    model.put("hasPasskey", bench.people().passkeys().has(instructor.id()));
    model.put("outside", bench.refusal(instructor.id(), task).orElse(""));
    Page.show(ctx, draft.blindOf().isPresent() ? "bench/review-blind" : "bench/review", model);
  }

  private static String shownDigest(Draft draft, Grade grade) {
    return Secrets.digest(draft.entries().toJson() + grade.photos());
  }

  private Grade gradeOf(Draft draft, Task task) {
    return Grade.of(
        draft.apprentice(), bench.nameOf(draft.apprentice()), task, draft.tag(), draft.entries(),
        bench.photos().of(draft.id()));
  }

  private void sign(Context ctx) {
    Draft draft = draft(ctx);
    if (draft.signedRecord().isPresent()) {
      Page.goTo(ctx, "/bench/records/" + draft.signedRecord().get(), "This was signed before; it stands once.");
      return;
    }
    if (draft.blindOf().isPresent()) {
      throw Refusal.invalid("A blind second grade is kept, not signed.");
    }
    Task task = taskOf(draft);
    if (wanting(draft).isPresent()) {
      ctx.status(409);
      changedSinceShown(ctx, draft);
      return;
    }
    Grade grade = gradeOf(draft, task);
    if (!shownDigest(draft, grade).equals(Visit.formText(ctx, "shown").orElse(""))) {
      ctx.status(409);
      changedSinceShown(ctx, draft);
      return;
    }
    Person signer = Visit.person(ctx);
    Optional<String> refusal =
        bench.refusal(signer.id(), task).or(
            () -> PinCheck.refusal(
                PasskeyPages.presence(ctx, bench.people()), moments));
    if (refusal.isPresent()) {
      ctx.status(422);
      showReview(ctx, draft, refusal.get(), Optional.empty());
      return;
    }
    String edition = bench.tasks().edition();
    boolean anotherPiece = Visit.formText(ctx, "another").isPresent();
    signed(
        ctx, draft,
        anotherPiece ? bench.records().signAnotherPiece(draft, grade, signer, edition)
            : bench.records().sign(draft, grade, signer, edition));
  }

  private void signed(Context ctx, Draft draft, Signing outcome) {
    if (outcome instanceof Signing.Signed signed) {
      String next = draft.group().filter(g -> !bench.drafts().group(g).isEmpty()).map(g -> "/bench/groups/" + g)
          .orElse("/bench/records/" + signed.entry().id());
      boolean second = signed.entry().record().grade().map(Grade::secondSignature).orElse(false);
      Page.goTo(
          ctx, next,
          "Signed. It is record " + signed.entry().number() + "."
              + (second ? " It counts when another instructor has signed it too." : ""));
    } else if (outcome instanceof Signing.SignedBefore before) {
      Page.goTo(ctx, "/bench/records/" + before.record(), "This was signed before; it stands once.");
    } else if (outcome instanceof Signing.TakenBefore taken) {
      Page.goTo(ctx, "/bench/records/" + taken.by(),
          "Not signed: this record had taken the place of the one that you meant to correct. Your draft is kept.");
    } else if (outcome instanceof Signing.SignedByAnother another) {
      ctx.status(409);
      showReview(ctx, draft, signedMeanwhile(another.record()), Optional.of(another.record()));
    } else {
      ctx.status(409);
      changedSinceShown(ctx, draft(ctx));
    }
  }

  private String signedMeanwhile(UUID record) {
    LoggedRecord other = bench.records().find(record).orElseThrow();
    return "Not signed yet: " + other.record().signature().name() + " signed this task for the same apprentice and "
        + "instrument at " + moments.timeOf(other.at()) + ", while you were grading. Your grade is kept. Say what it is.";
  }

  private void changedSinceShown(Context ctx, Draft draft) {
    String problem = "The draft has changed since you were shown it, so that nothing was signed. Look at it again.";
    if (wanting(draft).isPresent()) {
      showGrading(ctx, draft, true, problem);
    } else {
      showReview(ctx, draft, problem, Optional.empty());
    }
  }

  /** Keeps a grade that was made without seeing the first one: of a draft for that, or of one that came second. */
  private void keepBlind(Context ctx) {
    Draft draft = draft(ctx);
    if (draft.signedRecord().isPresent() || wanting(draft).isPresent()) {
      Page.goTo(ctx, "/bench/drafts/" + draft.id());
      return;
    }
    String advice = "There is no first grade that this could stand beside.";
    UUID work = draft.blindOf().or(() -> signedMeanwhile(Visit.formId(ctx, "work", advice), draft)).orElseThrow(
        () -> Refusal.invalid(advice));
    if (!bench.blind().keep(work, draft.instructor(), draft.id(), gradeOf(draft, taskOf(draft)))) {
      Page.goTo(ctx, "/bench/records/" + work, "You graded this work before; the first of your grades stands.");
      return;
    }
    Page.goTo(ctx, "/bench/records/" + work, "Your grade is kept beside the signed one. Here are both.");
  }

  /** A sign-off, if it is another instructor's of the same work. */
  private Optional<UUID> signedMeanwhile(UUID record, Draft draft) {
    return bench.records().find(record)
        .filter(r -> r.record() instanceof BenchRecord.SignOff && r.apprentice().equals(draft.apprentice()))
        .filter(r -> r.record().grade().orElseThrow().task().equals(draft.task()))
        .filter(r -> r.record().grade().orElseThrow().tag().equals(draft.tag()))
        .filter(r -> !r.record().signature().by().equals(draft.instructor()))
        .map(LoggedRecord::id);
  }
}
