package ferrule.bench;

import ferrule.account.PasskeyPages;
import ferrule.ledger.ProofFile;
import ferrule.ledger.SignedHead;
import ferrule.people.PeopleStore;
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
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;

/** A signed record, and its correction or withdrawal by a new one. */
public final class RecordPages implements Pages {

  private final TaskBook tasks;
  private final BenchStore bench;
  private final RecordStore records;
  private final PeopleStore people;
  private final BlindStore blind;
  private final Bench all;
  private final Moments moments;

  /** The pages. */
  public RecordPages(Bench bench) {
    this.all = bench;
    this.tasks = bench.tasks();
    this.bench = bench.drafts();
    this.records = bench.records();
    this.people = bench.people();
    this.blind = bench.blind();
    this.moments = bench.moments();
  }

  @Override
  public void routes(RoutesConfig routes) {
    OnlyOwn own = OnlyOwn.of(Role.APPRENTICE, "id", this::isOf);
    routes.get("/bench/records/{id}", this::show, Access.SIGNED_IN, own);
    routes.get("/bench/records/{id}/proof.jsonl", this::sendProof, Access.SIGNED_IN, own);
    routes.post("/bench/records/{id}/correct", this::correct, Access.INSTRUCTOR);
    routes.get("/bench/records/{id}/withdraw", ctx -> showWithdraw(ctx, entry(ctx), ""), Access.INSTRUCTOR);
    routes.post("/bench/records/{id}/withdraw", this::withdraw, Access.INSTRUCTOR);
  }

  private LoggedRecord entry(Context ctx) {
    return records.find(Visit.id(ctx, "id")).orElseThrow(() -> Refusal.notFound("There is no such record."));
  }

  private boolean isOf(Person apprentice, String id) {
    return Visit.uuid(id).flatMap(records::find).filter(e -> e.apprentice().equals(apprentice.id())).isPresent();
  }

  private void show(Context ctx) {
    LoggedRecord entry = entry(ctx);
    Map<String, Object> model = modelOf(entry);
    boolean instructor = Visit.person(ctx).role() == Role.INSTRUCTOR;
    boolean open = records.supersededBy(entry.id()).isEmpty() && entry.record().grade().isPresent();
    UUID reader = Visit.person(ctx).id();
    refuseIfGradingBlind(entry, reader);
    String outside = instructor ? outside(entry, reader).orElse("") : "";
    model.put("mayChange", instructor && open && outside.isEmpty());
    model.put("outside", open ? outside : "");
    model.put("maySecond", instructor && open && outside.isEmpty() && waitsForSecond(entry)
        && !entry.record().signature().by().equals(reader));
    boolean mayCompare = Visit.person(ctx).role() != Role.APPRENTICE;
    putProof(model, entry);
    model.put("others", mayCompare ? othersOf(entry) : List.of());
    Page.show(ctx, "bench/record", model);
  }

  /** What shows, on paper too, that the record is in the book at a signed head. */
  private void putProof(Map<String, Object> model, LoggedRecord entry) {
    SignedHead head = all.proofs().head();
    model.put("head", head);
    model.put("headAt", moments.inWords(head.at()));
    model.put("key", all.proofs().key());
    model.put("steps", all.proofs().prove(entry.entry(), head).proof().path());
  }

  private void sendProof(Context ctx) {
    LoggedRecord entry = entry(ctx);
    refuseIfGradingBlind(entry, Visit.person(ctx).id());
    SignedHead head = all.proofs().head();
    ctx.contentType("application/jsonl; charset=utf-8");
    ctx.header("Content-Disposition", "attachment; filename=\"record-" + entry.number() + ".jsonl\"");
    ctx.result(ProofFile.of(all.proofs().key(), head, all.proofs().prove(List.of(entry.entry()), head)));
  }

  /** Who grades the work blind does not look at its grade meanwhile. */
  private void refuseIfGradingBlind(LoggedRecord entry, UUID reader) {
    bench.openDrafts(reader).stream().filter(d -> d.blindOf().equals(Optional.of(entry.id()))).findFirst().ifPresent(
        d -> {
          throw Refusal.conflict(
              "You are grading this work without seeing its grade. Finish or put aside your draft on the bench page first.");
        });
  }

  private Optional<String> outside(LoggedRecord entry, UUID instructor) {
    return entry.record().grade().flatMap(g -> tasks.find(g.task())).flatMap(t -> all.refusal(instructor, t));
  }

  private boolean waitsForSecond(LoggedRecord entry) {
    return entry.record().grade().filter(Grade::secondSignature).isPresent() && records.secondOf(entry.id()).isEmpty();
  }

  /** Another instructor's blind grade of the work. */
  record OtherGrade(String grader, String standing, List<String> differences) {}

  private List<OtherGrade> othersOf(LoggedRecord entry) {
    Grade first = entry.record().grade().orElse(null);
    return first == null ? List.of() : blind.ofWork(entry.id()).entrySet().stream()
        .map(e -> new OtherGrade(
            e.getKey(), e.getValue().outcome().standing().word(), GradeView.differences(first, e.getValue())))
        .toList();
  }

  private Map<String, Object> modelOf(LoggedRecord entry) {
    BenchRecord record = entry.record();
    Map<String, Object> model = new HashMap<>();
    model.put("entry", entry);
    model.put("record", record);
    model.put("heading", headingOf(record));
    model.put("signedAt", moments.inWords(entry.at()));
    model.put("onDevice", record.signature().onDevice().map(this::deviceView).orElse(null));
    model.put("grade", record.grade().map(GradeView::of).orElse(null));
    model.put("earlier", record.supersedes().flatMap(records::find).map(this::reference).orElse(null));
    model.put("later", records.supersededBy(entry.id()).flatMap(records::find).map(this::reference).orElse(null));
    model.put("second", records.secondOf(entry.id()).map(this::reference).orElse(null));
    model.put("waitsForSecond", waitsForSecond(entry) && records.supersededBy(entry.id()).isEmpty());
    model.put("seconds", record instanceof BenchRecord.SecondSignature s
        ? records.find(s.seconds()).map(this::reference).orElse(null) : null);
    return model;
  }

  /** What a signature that was made without a network says beside its own time. */
  record DeviceView(String signedAt, String receivedAt, String provenAt, String statement) {}

  private DeviceView deviceView(OnDevice device) {
    return new DeviceView(
        moments.inWords(device.signedAt()), moments.inWords(device.receivedAt()), moments.inWords(device.provenAt()),
        device.statement());
  }

  /** Another record that this one points at or is pointed at by. */
  record Reference(UUID id, long number, String kind, String signer, String at, String reason) {}

  private Reference reference(LoggedRecord entry) {
    BenchRecord record = entry.record();
    return new Reference(
        entry.id(), entry.number(), headingOf(record).toLowerCase(Locale.ROOT), record.signature().name(), moments.inWords(entry.at()),
        record.reason());
  }

  private static String headingOf(BenchRecord record) {
    if (record instanceof BenchRecord.SignOff) {
      return "Sign-off";
    }
    if (record instanceof BenchRecord.SecondSignature) {
      return "Second signature";
    }
    return record instanceof BenchRecord.Correction ? "Correction" : "Withdrawal";
  }

  private void correct(Context ctx) {
    LoggedRecord entry = entry(ctx);
    refuseIfTaken(entry);
    Grade grade = entry.record().grade().orElseThrow(
        () -> Refusal.invalid("Only a grade can be corrected: open the record of the grade."));
    Task task = tasks.find(grade.task()).orElseThrow(
        () -> Refusal.invalid("The task is not in the curriculum any more. The record can only be withdrawn."));
    UUID instructor = Visit.person(ctx).id();
    refuseOutside(entry, instructor);
    Draft draft = bench.openDrafts(instructor).stream()
        .filter(d -> d.corrects().equals(Optional.of(entry.id())))
        .findFirst()
        .orElseGet(() -> bench.open(
            instructor, entry.apprentice(), task.id(), grade.tag(), grade.asEntries(task), Optional.of(entry.id())));
    Page.goTo(ctx, "/bench/drafts/" + draft.id());
  }

  private void refuseIfTaken(LoggedRecord entry) {
    if (records.supersededBy(entry.id()).isPresent()) {
      throw Refusal.conflict("This record has been corrected or withdrawn already. Open the record that took its place.");
    }
  }

  private void refuseOutside(LoggedRecord entry, UUID instructor) {
    outside(entry, instructor).ifPresent(
        words -> {
          throw Refusal.forbidden(words);
        });
  }

  private void showWithdraw(Context ctx, LoggedRecord entry, String problem) {
    refuseIfTaken(entry);
    Map<String, Object> model = modelOf(entry);
    model.put("problem", problem);
    model.put("reason", Optional.ofNullable(ctx.formParam("reason")).orElse(""));
    model.put("hasPin", people.hasPin(Visit.person(ctx).id()));
    model.put("hasPasskey", people.passkeys().has(Visit.person(ctx).id()));
    Page.show(ctx, "bench/withdraw", model);
  }

  private void withdraw(Context ctx) {
    LoggedRecord entry = entry(ctx);
    if (entry.record().grade().isEmpty()) {
      throw Refusal.invalid("Only a grade can be withdrawn: open the record of the grade.");
    }
    refuseOutside(entry, Visit.person(ctx).id());
    // the same cleaning as a correction's reason
    String reason = new Entries(
        true, Map.of(), Map.of(), Map.of(), Map.of(), "", Visit.formText(ctx, "reason").orElse("")).reason();
    if (reason.isEmpty()) {
      ctx.status(422);
      showWithdraw(ctx, entry, "Say why the record is withdrawn.");
      return;
    }
    Optional<String> refusal =
        PinCheck.refusal(PasskeyPages.presence(ctx, people), moments);
    if (refusal.isPresent()) {
      ctx.status(422);
      showWithdraw(ctx, entry, refusal.get());
      return;
    }
    Signing outcome = records.withdraw(entry, reason, Visit.person(ctx), tasks.edition());
    if (outcome instanceof Signing.Signed signed) {
      Page.goTo(ctx, "/bench/records/" + signed.entry().id(),
          "Withdrawn. The withdrawal is record " + signed.entry().number() + ".");
    } else {
      throw Refusal.conflict("This record has been corrected or withdrawn meanwhile; nothing was added.");
    }
  }
}
