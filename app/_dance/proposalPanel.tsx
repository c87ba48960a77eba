export function ProposalPanel() {
  return null;
}
