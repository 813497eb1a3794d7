// A drill that goes on without a network.

export async function showDrill() {}
