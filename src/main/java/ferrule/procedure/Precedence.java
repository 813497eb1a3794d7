package ferrule.procedure;

/**
 * That one step must come before another, and why.
 *
 * @param earlier the step that comes first
 * @param later the step that comes after it
 * @param slip what has been done if they come the other way round, such as "Heated before the flux was on"
 * @param why what goes wrong then
 */
public record Precedence(StepId earlier, StepId later, String slip, String why) {

  /** Checks that the steps are two and that there is a reason. */
  public Precedence {
    if (earlier.equals(later)) {
      throw new IllegalArgumentException("step " + earlier + " cannot come before itself");
    }
    if (slip.isBlank() || why.isBlank()) {
      throw new IllegalArgumentException("that " + earlier + " comes before " + later + " needs its reason");
    }
  }

  /** What an apprentice is told who did them the other way round, such as "Heated before the flux was on: ...". */
  public String objection() {
    return slip + ": " + why;
  }
}
